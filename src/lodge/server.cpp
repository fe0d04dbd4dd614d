#include "lodge/server.hpp"

#include <httplib.h>

#include <chrono>
#include <thread>
#include <variant>

#include "lodge/address.hpp"
#include "lodge/hang_up.hpp"
#include "lodge/limits.hpp"

namespace skewback::lodge {
namespace {

using namespace std::chrono_literals;
constexpr std::size_t kThreads = Events::kStreamsMost + 24;
constexpr std::uint64_t kReadMost_bytes = 4 * kBodyMost_bytes;  // read, so that 413 arrives

const std::pair<const char*, const char*> kSafeHeaders[] = {
    {"Content-Security-Policy",
     "default-src 'self'; img-src 'self' data: blob:; object-src 'none'; base-uri 'none'; "
     "form-action 'none'; frame-ancestors 'none'"},
    {"X-Content-Type-Options", "nosniff"},
    {"X-Frame-Options", "DENY"},
    {"Referrer-Policy", "no-referrer"},
    {"Cross-Origin-Resource-Policy", "same-origin"},
    {"Cross-Origin-Opener-Policy", "same-origin"},
    {"Permissions-Policy", "camera=(self), microphone=(), geolocation=()"}};

// Given by length, not as content: the library would press each reply anew.
void give(httplib::Response& response, Reply reply) {
  response.status = reply.status;
  for (const auto& [name, value] : reply.headers) response.set_header(name, value);
  if (!reply.headers.contains("Cache-Control"))
    response.set_header("Cache-Control", reply.headers.contains("ETag") ? "no-cache" : "no-store");
  if (reply.body.empty()) return;
  const auto body = std::make_shared<const std::string>(std::move(reply.body));
  response.set_content_provider(body->size(), reply.type,
                                [body](std::size_t at, std::size_t length, httplib::DataSink& to) {
                                  return to.write(body->data() + at, length);
                                });
}

void give_stream(httplib::Response& response, Events& events,
                 const std::function<std::string()>& state) {
  const std::shared_ptr<Events::Stream> stream = events.open(state);
  if (stream == nullptr) {
    Reply full = refusal(429, "too many pages are open on this bridge");
    full.headers["Retry-After"] = "10";
    return give(response, std::move(full));
  }
  response.set_header("Cache-Control", "no-store");
  response.set_chunked_content_provider("text/event-stream",
                                        [stream](std::size_t, httplib::DataSink& to) {
                                          const auto text = stream->next(15s);
                                          return text && to.write(text->data(), text->size());
                                        });
}

std::optional<std::uint64_t> declared_length(const httplib::Request& request) {
  const std::string text = request.get_header_value("Content-Length");
  if (text.empty()) return 0;
  if (text.size() > 15 || text.find_first_not_of("0123456789") != std::string::npos)
    return std::nullopt;
  return std::stoull(text);
}

// What the request says of itself, before its body is read.
std::variant<Request, Reply> head_of(const httplib::Request& from) {
  Request request;
  const Result<Address> address = read_target(from.target);
  if (!address) return refusal(400, address.faults());
  for (const char* once : {"Host", "Origin", "Content-Length", "Content-Type", "X-Lodge-Token"})
    if (from.get_header_value_count(once) > 1)
      return refusal(400, std::string("the header ") + once + " is there twice");
  if (!declared_length(from)) return refusal(400, "Content-Length is no number");
  if (from.has_header("Content-Encoding")) return refusal(415, "expected a body as it is");
  request.method = from.method;
  request.path = address->path;
  request.query = address->query;
  request.host = from.get_header_value("Host");
  request.origin = from.get_header_value("Origin");
  request.token = from.get_header_value("X-Lodge-Token");
  request.type = from.get_header_value("Content-Type");
  request.if_none_match = from.get_header_value("If-None-Match");
  request.fetch_site = from.get_header_value("Sec-Fetch-Site");
  request.from = from.remote_addr;
  return request;
}

// Longer than kBodyMost_bytes: so much and one byte more, which the gate then refuses.
void read_body(const httplib::ContentReader& reader, std::string& body) {
  std::size_t seen = 0;
  (void)reader([&](const char* data, std::size_t size) {
    seen += size;
    const std::size_t room = kBodyMost_bytes + 1 - std::min(body.size(), kBodyMost_bytes + 1);
    body.append(data, std::min(size, room));
    return seen <= kReadMost_bytes;
  });
}

}  // namespace

struct Server::Inside {
  httplib::Server http;
  int port = 0;
  socket_t listening = -1;

  void settings();
  void routes(const Answer& answer, Events& events);
  static void answer_one(const Answer& answer, Events& events, const httplib::Request& from,
                         const httplib::ContentReader* reader, httplib::Response& to);
};

void Server::Inside::settings() {
  http.new_task_queue = [] { return new httplib::ThreadPool(kThreads); };
  http.set_keep_alive_max_count(1);  // an idle connection would hold a thread
  http.set_read_timeout(5s);
  http.set_write_timeout(5s);
  http.set_tcp_nodelay(true);
  http.set_payload_max_length(kReadMost_bytes);
  http.set_socket_options([this](socket_t socket) {
    listening = socket;
    const int yes = 1;  // not SO_REUSEPORT: two would share the port
    setsockopt(socket, SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes);
  });
}

void Server::Inside::answer_one(const Answer& answer, Events& events, const httplib::Request& from,
                                const httplib::ContentReader* reader, httplib::Response& to) {
  for (const auto& [name, value] : kSafeHeaders) to.set_header(name, value);
  auto head = head_of(from);
  if (auto* refused = std::get_if<Reply>(&head)) return give(to, std::move(*refused));
  Request request = std::get<Request>(std::move(head));
  if (declared_length(from).value_or(0) > kReadMost_bytes)
    return give(to, refusal(413, "more than 1 MB in one message"));
  if (from.is_multipart_form_data())
    return give(to, refusal(415, "expected Content-Type: application/json"));
  if (reader != nullptr) read_body(*reader, request.body);
  if (to.status >= 400) return give(to, refusal(to.status, "the body could not be read"));
  Reply reply = answer(request);
  if (reply.status == 200 && reply.type == "text/event-stream")
    return give_stream(to, events, [&] { return answer(request).body; });
  give(to, std::move(reply));
}

void Server::Inside::routes(const Answer& answer, Events& events) {
  const auto guarded = [&answer, &events](const httplib::Request& from,
                                          const httplib::ContentReader* reader,
                                          httplib::Response& to) {
    try {
      answer_one(answer, events, from, reader, to);
    } catch (const std::exception& error) {
      give(to, refusal(500, std::string("a fault of this program: ") + error.what()));
    } catch (...) {
      give(to, refusal(500, "the work was stopped"));
    }
  };
  // The library matches paths by regular expressions, step by step on the stack: none but short
  // ones get there.
  http.set_pre_routing_handler([guarded](const httplib::Request& from, httplib::Response& to) {
    const_cast<httplib::Request&>(from).ranges.clear();  // everything is given whole
    const bool has_body = from.method != "GET" && from.method != "HEAD";
    if (has_body && from.path.size() <= 256) return httplib::Server::HandlerResponse::Unhandled;
    guarded(from, nullptr, to);
    return httplib::Server::HandlerResponse::Handled;
  });
  const auto with_body = [guarded](const httplib::Request& from, httplib::Response& to,
                                   const httplib::ContentReader& reader) {
    guarded(from, &reader, to);
  };
  const std::string any = R"([\s\S]*)";
  http.Post(any, with_body);
  http.Put(any, with_body);
  http.Patch(any, with_body);
  http.Delete(any, with_body);
  http.Options(any, [guarded](const httplib::Request& from, httplib::Response& to) {
    guarded(from, nullptr, to);
  });
  http.set_error_handler([](const httplib::Request&, httplib::Response& to) {
    if (to.body.empty() && !to.content_provider_)
      give(to, refusal(to.status, "this request cannot be read"));
  });
}

Server::Server(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
Server::~Server() = default;
int Server::port() const { return inside_->port; }

Result<std::unique_ptr<Server>> Server::bind(const std::string& listen, int port) {
  auto inside = std::make_unique<Inside>();
  inside->settings();
  if (port == 0)
    inside->port = inside->http.bind_to_any_port(listen);
  else
    inside->port = inside->http.bind_to_port(listen, port) ? port : -1;
  if (inside->port <= 0)
    return Fault{"",
                 0,
                 0,
                 "address",
                 listen + (port == 0 ? "" : ":" + std::to_string(port)) + " cannot be had",
                 "an address of this machine, and a port that nothing else has taken",
                 "leave --port out, and a free one is taken"};
  ::listen(inside->listening,
           128);  // the library lets five wait, and the next tries again after 1 s
  return std::unique_ptr<Server>(new Server(std::move(inside)));
}

void Server::run(const Answer& answer, Events& events, const std::atomic<bool>& stop,
                 const std::function<void()>& ready) {
  inside_->routes(answer, events);
  std::atomic<bool> over{false};
  std::thread watch([&] {
    while (!inside_->http.is_running() && !over) std::this_thread::sleep_for(2ms);
    if (!over && ready) ready();
    while (!stop && !over) std::this_thread::sleep_for(50ms);
    events.close();
    inside_->http.stop();
    for (int tenths = 0; !over; ++tenths) {
      std::this_thread::sleep_for(100ms);
      if (tenths >= 5) hang_up(inside_->port);
    }
  });
  inside_->http.listen_after_bind();
  over = true;
  watch.join();
}

}  // namespace skewback::lodge
