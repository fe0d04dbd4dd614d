#include "lodge/events.hpp"

#include <gtest/gtest.h>

#include <thread>

namespace skewback::lodge {
namespace {

using namespace std::chrono_literals;

TEST(Events, TheStateComesFirstThenTheNewestOfEachKind) {
  Events events;
  const auto stream = events.open([] { return std::string("{\"revision\":1}"); });
  EXPECT_EQ(stream->next(0ms), "event: state\ndata: {\"revision\":1}\n\n");
  EXPECT_EQ(stream->next(1ms), ": still here\n\n");
  for (int i = 0; i < 1000; ++i) events.publish("progress", std::to_string(i));
  events.publish("state", "{}");
  events.publish("progress", "last");
  EXPECT_EQ(stream->next(0ms), "event: state\ndata: {}\n\nevent: progress\ndata: last\n\n");
}

TEST(Events, SoManyStreamsAndNoMore) {
  Events events;
  std::vector<std::shared_ptr<Events::Stream>> streams;
  for (std::size_t i = 0; i < Events::kStreamsMost; ++i)
    streams.push_back(events.open([] { return ""; }));
  EXPECT_EQ(events.open([] { return ""; }), nullptr);
  streams.pop_back();
  EXPECT_EQ(events.streams(), Events::kStreamsMost - 1);
  EXPECT_NE(events.open([] { return ""; }), nullptr);
}

TEST(Events, ClosingWakesThoseWhoWait) {
  Events events;
  const auto stream = events.open([] { return ""; });
  (void)stream->next(0ms);
  const auto began = std::chrono::steady_clock::now();
  std::thread closer([&] {
    std::this_thread::sleep_for(50ms);
    events.close();
  });
  EXPECT_EQ(stream->next(60s), std::nullopt);
  closer.join();
  EXPECT_LT(std::chrono::steady_clock::now() - began, 10s);
  EXPECT_EQ(events.open([] { return ""; })->next(60s), std::nullopt);
}

}  // namespace
}  // namespace skewback::lodge
