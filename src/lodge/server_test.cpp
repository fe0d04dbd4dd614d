#include "lodge/server.hpp"

#include <arpa/inet.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <httplib.h>
#include <unistd.h>

#include <future>
#include <thread>

#include "base/timing.hpp"
#include "lodge/limits.hpp"

namespace skewback::lodge {
namespace {

using namespace std::chrono_literals;
using ::testing::HasSubstr;

// Serves in a thread of its own until it goes out of scope.
class Served {
 public:
  explicit Served(Server::Answer answer)
      : server_(std::move(Server::bind("127.0.0.1", 0).value())), answer_(std::move(answer)) {
    thread_ = std::thread(
        [this] { server_->run(answer_, events, stop_, [this] { ready_.set_value(); }); });
    ready_.get_future().wait();
  }
  ~Served() { (void)stop(); }
  /// Seconds it took to end.
  double stop() {
    const Stopwatch clock;
    stop_ = true;
    if (thread_.joinable()) thread_.join();
    return clock.seconds();
  }
  [[nodiscard]] int port() const { return server_->port(); }
  [[nodiscard]] httplib::Client client() const {
    httplib::Client client("127.0.0.1", port());
    client.set_read_timeout(10s);
    return client;
  }
  Events events;

 private:
  std::unique_ptr<Server> server_;
  Server::Answer answer_;
  std::atomic<bool> stop_{false};
  std::promise<void> ready_;
  std::thread thread_;
};

Reply echo(const Request& request) {
  if (request.path == "/events") return {200, "text/event-stream", "{\"first\":1}", {}};
  if (request.path == "/throws") throw std::runtime_error("as asked");
  if (request.path == "/throws-other") throw 7;
  Reply reply;
  reply.body = request.method + " " + request.path + " " + request.host + " " + request.token +
               " " + request.from + " " + std::to_string(request.body.size());
  if (request.path == "/tagged") return tagged(reply, "\"t\"", request);
  return reply;
}

// A socket on that port of this machine, closed by the caller.
int connected(int port) {
  const int file = socket(AF_INET, SOCK_STREAM, 0);
  sockaddr_in to{};
  to.sin_family = AF_INET;
  to.sin_port = htons(static_cast<std::uint16_t>(port));
  to.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  EXPECT_EQ(connect(file, reinterpret_cast<sockaddr*>(&to), sizeof to), 0);
  return file;
}

// What comes back to these bytes, until the other side hangs up.
std::string raw(int port, const std::string& bytes) {
  const int file = connected(port);
  EXPECT_EQ(send(file, bytes.data(), bytes.size(), MSG_NOSIGNAL),
            static_cast<ssize_t>(bytes.size()));
  std::string answer;
  char part[4096];
  for (ssize_t got = 0; (got = recv(file, part, sizeof part, 0)) > 0;)
    answer.append(part, static_cast<std::size_t>(got));
  close(file);
  return answer;
}

TEST(Server, HandsRequestsOnAndRepliesBack) {
  const Served served(echo);
  auto client = served.client();
  const auto got = client.Get("/a%20b?x=1", {{"X-Lodge-Token", "t0"}});
  ASSERT_TRUE(got);
  EXPECT_EQ(got->status, 200);
  EXPECT_EQ(got->body, "GET /a b 127.0.0.1:" + std::to_string(served.port()) + " t0 127.0.0.1 0");
  const auto posted = client.Post("/x", "{\"a\":1}", "application/json");
  ASSERT_TRUE(posted);
  EXPECT_THAT(posted->body, HasSubstr("POST /x"));
  EXPECT_TRUE(posted->body.ends_with(" 7"));
  const auto head = client.Head("/x");
  ASSERT_TRUE(head);
  EXPECT_EQ(head->body, "");
}

TEST(Server, EveryReplyHasTheSafeHeaders) {
  const Served served(echo);
  auto client = served.client();
  for (const char* path : {"/x", "/throws", "/a/../b"}) {
    const auto got = client.Get(path);
    ASSERT_TRUE(got) << path;
    EXPECT_THAT(got->get_header_value("Content-Security-Policy"), HasSubstr("default-src 'self'"));
    EXPECT_EQ(got->get_header_value("X-Content-Type-Options"), "nosniff");
    EXPECT_EQ(got->get_header_value("Referrer-Policy"), "no-referrer");
    EXPECT_EQ(got->get_header_value("X-Frame-Options"), "DENY");
  }
}

TEST(Server, WhatIsThrownIs500AndItLivesOn) {
  const Served served(echo);
  auto client = served.client();
  for (const char* path : {"/throws", "/throws-other"}) {
    const auto got = client.Get(path);
    ASSERT_TRUE(got);
    EXPECT_EQ(got->status, 500);
    EXPECT_EQ(nlohmann::json::parse(got->body).at("faults").size(), 1U);
  }
  EXPECT_EQ(client.Get("/x")->status, 200);
}

TEST(Server, TagsWorkOverTheWire) {
  const Served served(echo);
  const auto got = served.client().Get("/tagged", {{"If-None-Match", "\"t\""}});
  ASSERT_TRUE(got);
  EXPECT_EQ(got->status, 304);
  EXPECT_EQ(got->get_header_value("ETag"), "\"t\"");
}

TEST(Server, RangesAreGivenWhole) {
  const Served served(echo);
  const auto got = served.client().Get("/x", {{"Range", "bytes=0-3"}});
  ASSERT_TRUE(got);
  EXPECT_EQ(got->status, 200);
  EXPECT_THAT(got->body, HasSubstr("127.0.0.1"));
}

TEST(Server, BadAddressesAndHeadersAre400) {
  const Served served(echo);
  const std::string end = " HTTP/1.1\r\nHost: h\r\n";
  for (const std::string& request :
       {"GET /a/%2e%2e/b" + end + "\r\n", "GET /a%00b" + end + "\r\n", "GET /%zz" + end + "\r\n",
        "GET //x" + end + "\r\n", "GET /x" + end + "Host: g\r\n\r\n",
        "POST /x" + end + "Content-Length: -5\r\n\r\n",
        "POST /x" + end + "Content-Length: 1e3\r\n\r\n",
        "POST /x" + end + "Content-Length: 3\r\nContent-Length: 4\r\n\r\nabcd",
        std::string("NONSENSE\r\n\r\n"), "BREW /x" + end + "\r\n"})
    EXPECT_TRUE(raw(served.port(), request).starts_with("HTTP/1.1 400")) << request;
}

TEST(Server, BodiesAreReadWithMeasure) {
  const Served served([](const Request& request) {
    return request.body.size() > kBodyMost_bytes ? refusal(413, "too long") : echo(request);
  });
  auto client = served.client();
  const auto status = [&](std::size_t size) {
    const auto got = client.Post("/x", std::string(size, 'a'), "application/json");
    return got ? got->status : 0;
  };
  EXPECT_EQ(status(kBodyMost_bytes), 200);
  EXPECT_EQ(status(kBodyMost_bytes + 1), 413);
  EXPECT_EQ(status(3'000'000), 413);
  const std::string head = "POST /x HTTP/1.1\r\nHost: h\r\nContent-Type: application/json\r\n";
  EXPECT_TRUE(
      raw(served.port(), head + "Content-Length: 99999999999\r\n\r\n").starts_with("HTTP/1.1 413"));
  EXPECT_TRUE(raw(served.port(), head + "Content-Encoding: gzip\r\nContent-Length: 1\r\n\r\nx")
                  .starts_with("HTTP/1.1 415"));
  EXPECT_TRUE(raw(served.port(),
                  "POST /x HTTP/1.1\r\nHost: h\r\nContent-Type: multipart/form-data; "
                  "boundary=b\r\nContent-Length: 3\r\n\r\n--b")
                  .starts_with("HTTP/1.1 415"));
  EXPECT_TRUE(raw(served.port(), head + "Transfer-Encoding: chunked\r\n\r\n3\r\nabc\r\n0\r\n\r\n")
                  .ends_with(" 3"));
}

TEST(Server, ChunksWithoutEndAreCutOff) {
  const Served served([](const Request& request) {
    return request.body.size() > kBodyMost_bytes ? refusal(413, "too long") : echo(request);
  });
  std::string endless =
      "POST /x HTTP/1.1\r\nHost: h\r\nContent-Type: application/json\r\nTransfer-Encoding: "
      "chunked\r\n\r\n";
  for (int i = 0; i < 80; ++i) endless += "10000\r\n" + std::string(65536, 'a') + "\r\n";
  endless += "0\r\n\r\n";
  auto client = served.client();
  const int file = connected(served.port());
  std::size_t sent = 0;
  while (sent < endless.size()) {
    const ssize_t put = send(file, endless.data() + sent, endless.size() - sent, MSG_NOSIGNAL);
    if (put <= 0) break;
    sent += static_cast<std::size_t>(put);
  }
  close(file);
  EXPECT_EQ(client.Get("/x")->status, 200);
}

TEST(Server, StreamsTellWhatHappens) {
  Served served(echo);
  std::string seen;
  std::thread reader([&] {
    auto client = served.client();
    (void)client.Get("/events", [&](const char* data, std::size_t size) {
      seen.append(data, size);
      if (seen.find("first") != std::string::npos && seen.find("daybook") == std::string::npos)
        served.events.publish("daybook", "{\"number\":5}");
      return seen.find("number") == std::string::npos;
    });
  });
  reader.join();
  EXPECT_EQ(seen, "event: state\ndata: {\"first\":1}\n\nevent: daybook\ndata: {\"number\":5}\n\n");
}

TEST(Server, TooManyStreamsAreRefusedAndOthersAreStillAnswered) {
  Served served(echo);
  std::vector<std::thread> readers;
  for (std::size_t i = 0; i < Events::kStreamsMost; ++i)
    readers.emplace_back([&] {
      auto client = served.client();
      (void)client.Get("/events", [](const char*, std::size_t) { return true; });
    });
  const Stopwatch clock;
  while (served.events.streams() < Events::kStreamsMost && clock.seconds() < 20)
    std::this_thread::sleep_for(5ms);
  auto client = served.client();
  EXPECT_EQ(client.Get("/events")->status, 429);
  EXPECT_EQ(client.Get("/x")->status, 200);
  EXPECT_LT(served.stop(), 2);
  for (std::thread& reader : readers) reader.join();
}

TEST(Server, EndsInTimeWithStreamsSilentAndHalfAskedConnections) {
  Served served(echo);
  std::vector<int> files;
  for (const char* bytes : {"", "GET /x HT", "GET /events HTTP/1.1\r\nHost: h\r\n\r\n",
                            "POST /x HTTP/1.1\r\nHost: h\r\nContent-Length: 100\r\n\r\nabc"}) {
    const int file = connected(served.port());
    ASSERT_EQ(send(file, bytes, std::string(bytes).size(), MSG_NOSIGNAL),
              static_cast<ssize_t>(std::string(bytes).size()));
    files.push_back(file);
  }
  std::this_thread::sleep_for(200ms);
  EXPECT_LT(served.stop(), 2);
  for (const int file : files) close(file);
}

TEST(Server, APortThatIsTakenIsAFault) {
  const auto first = Server::bind("127.0.0.1", 0);
  ASSERT_TRUE(first.ok());
  const auto second = Server::bind("127.0.0.1", first.value()->port());
  ASSERT_FALSE(second.ok());
  EXPECT_THAT(describe(second.faults().front()), HasSubstr("cannot be had"));
  EXPECT_FALSE(Server::bind("203.0.113.7", 0).ok());
}

}  // namespace
}  // namespace skewback::lodge
