#pragma once
// Sockets: requests in, replies and server events out. Knows nothing of what they are about.

#include <atomic>
#include <functional>
#include <memory>

#include "lodge/events.hpp"
#include "lodge/routes.hpp"

namespace skewback::lodge {

class Server {
 public:
  /// Takes the port; 0: any that is free. Faults: an address that cannot be had.
  [[nodiscard]] static Result<std::unique_ptr<Server>> bind(const std::string& listen, int port);
  ~Server();
  [[nodiscard]] int port() const;

  using Answer = std::function<Reply(const Request&)>;
  /// Answers until `stop`, then ends within 2 s, open streams or not (unless an answer is being
  /// worked out: that is waited for). A reply of type text/event-stream becomes a stream of
  /// `events`, its body the state told first. What `answer` throws becomes 500. `ready` is called
  /// once, when it answers.
  void run(const Answer& answer, Events& events, const std::atomic<bool>& stop,
           const std::function<void()>& ready);

 private:
  struct Inside;
  explicit Server(std::unique_ptr<Inside> inside);
  std::unique_ptr<Inside> inside_;
};

}  // namespace skewback::lodge
