#pragma once
// Who is let in: the checks that come before any request is looked into.

#include <optional>

#include "lodge/limits.hpp"
#include "lodge/routes.hpp"

namespace skewback::lodge {

struct GateRules {
  std::vector<std::string> hosts;  // "127.0.0.1:40123", small letters
  bool any_figures = false;        // any address in figures with `port`: listening on all
  int port = 0;
  std::string token;
  bool reads_need_token = false;  // under /api, when others than this machine are let in
};
/// For a server at `listen`:`port`.
[[nodiscard]] GateRules gate_rules(const std::string& listen, int port, const std::string& token);
/// Only this machine can reach it there.
[[nodiscard]] bool is_loopback(const std::string& listen);

class Gate {
 public:
  explicit Gate(GateRules rules) : rules_(std::move(rules)) {}
  /// The refusal, or none: it may pass. 403 Host, Origin or token; 429 too many; 413, 415 a body
  /// too long or not JSON. `now_s`: a clock that does not go back.
  [[nodiscard]] std::optional<Reply> refuses(const Request& request, double now_s);

 private:
  [[nodiscard]] bool host_known(const std::string& host) const;
  GateRules rules_;
  RateLimit writes_{600, 10}, reads_{3000, 10}, wrong_tokens_{30, 10};
};

}  // namespace skewback::lodge
