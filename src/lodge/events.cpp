#include "lodge/events.hpp"

#include <algorithm>

namespace skewback::lodge {

void Events::put(Stream& stream, const std::string& kind, const std::string& data) {
  const auto same = std::find_if(stream.waiting_.begin(), stream.waiting_.end(),
                                 [&](const Stream::Told& t) { return t.kind == kind; });
  if (same != stream.waiting_.end()) stream.waiting_.erase(same);
  stream.waiting_.push_back({kind, data});
}

void Events::publish(const std::string& kind, const std::string& data) {
  {
    const std::lock_guard guard(lock_);
    for (Stream* stream : streams_) put(*stream, kind, data);
  }
  news_.notify_all();
}

void Events::close() {
  {
    const std::lock_guard guard(lock_);
    closed_ = true;
  }
  news_.notify_all();
}

std::size_t Events::streams() const {
  const std::lock_guard guard(lock_);
  return streams_.size();
}

std::shared_ptr<Events::Stream> Events::open(const std::function<std::string()>& state) {
  const auto stream = std::make_shared<Stream>();
  const std::lock_guard guard(lock_);
  if (streams_.size() >= kStreamsMost) return nullptr;
  stream->of_ = this;
  put(*stream, "state", state());
  streams_.push_back(stream.get());
  return stream;
}

Events::Stream::~Stream() {
  if (of_ == nullptr) return;
  const std::lock_guard guard(of_->lock_);
  std::erase(of_->streams_, this);
}

std::optional<std::string> Events::Stream::next(std::chrono::milliseconds patience) {
  std::unique_lock guard(of_->lock_);
  of_->news_.wait_for(guard, patience, [&] { return of_->closed_ || !waiting_.empty(); });
  if (of_->closed_) return std::nullopt;
  if (waiting_.empty()) return ": still here\n\n";
  std::string text;
  for (const Told& told : waiting_) text += "event: " + told.kind + "\ndata: " + told.data + "\n\n";
  waiting_.clear();
  return text;
}

}  // namespace skewback::lodge
