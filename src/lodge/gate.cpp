#include "lodge/gate.hpp"

#include <arpa/inet.h>

#include <algorithm>

namespace skewback::lodge {
namespace {

std::string small(std::string text) {
  for (char& c : text)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return text;
}

bool in_figures(const std::string& host) {
  in_addr four{};
  in6_addr six{};
  if (host.size() > 2 && host.front() == '[' && host.back() == ']')
    return inet_pton(AF_INET6, host.substr(1, host.size() - 2).c_str(), &six) == 1;
  return inet_pton(AF_INET, host.c_str(), &four) == 1;
}

bool is_json(const std::string& type) {
  const std::string kind = small(type.substr(0, type.find(';')));
  const std::size_t end = kind.find_last_not_of(" \t");
  return end != std::string::npos && kind.substr(0, end + 1) == "application/json";
}

bool writes(const Request& request) { return request.method != "GET" && request.method != "HEAD"; }

Reply too_many() {
  Reply reply = refusal(429, "too many requests: wait a moment");
  reply.headers["Retry-After"] = "10";
  return reply;
}

}  // namespace

bool is_loopback(const std::string& listen) {
  in_addr four{};
  if (inet_pton(AF_INET, listen.c_str(), &four) == 1) return (ntohl(four.s_addr) >> 24) == 127;
  return listen == "localhost" || listen == "::1";
}

GateRules gate_rules(const std::string& listen, int port, const std::string& token) {
  GateRules rules;
  rules.port = port;
  rules.token = token;
  rules.reads_need_token = !is_loopback(listen);
  rules.any_figures = listen == "0.0.0.0" || listen == "::";
  std::vector<std::string> names = {"127.0.0.1", "localhost", "[::1]"};
  if (!rules.any_figures)
    names.push_back(listen.find(':') == std::string::npos ? small(listen)
                                                          : "[" + small(listen) + "]");
  for (const std::string& name : names) {
    rules.hosts.push_back(name + ":" + std::to_string(port));
    if (port == 80) rules.hosts.push_back(name);  // left out by browsers
  }
  return rules;
}

bool Gate::host_known(const std::string& host) const {
  if (std::find(rules_.hosts.begin(), rules_.hosts.end(), host) != rules_.hosts.end()) return true;
  if (!rules_.any_figures) return false;
  const std::string port = ":" + std::to_string(rules_.port);
  if (host.ends_with(port)) return in_figures(host.substr(0, host.size() - port.size()));
  return rules_.port == 80 && in_figures(host);
}

std::optional<Reply> Gate::refuses(const Request& request, double now_s) {
  const std::string host = small(request.host);
  if (!host_known(host)) return refusal(403, "this page answers only under its own address");
  if (!request.origin.empty() && small(request.origin) != "http://" + host)
    return refusal(403, "asked from another page");
  const bool under_api = request.path == "/api" || request.path.starts_with("/api/");
  // a picture on some other page, say: no Origin goes with it
  const std::string& site = request.fetch_site;
  if (under_api && !site.empty() && site != "same-origin" && site != "none")
    return refusal(403, "asked from another page");
  if (!(writes(request) ? writes_ : reads_).admit(request.from, now_s)) return too_many();
  if (writes(request) || (rules_.reads_need_token && under_api)) {
    if (!wrong_tokens_.has_room(request.from, now_s)) return too_many();
    if (!same_secret(request.token, rules_.token)) {
      (void)wrong_tokens_.admit(request.from, now_s);
      return refusal(403, "needs the token: open the page by the address that was printed");
    }
  }
  if (!writes(request)) return std::nullopt;
  if (request.body.size() > kBodyMost_bytes) return refusal(413, "more than 1 MB in one message");
  if (request.method == "POST" && !is_json(request.type))
    return refusal(415, "expected Content-Type: application/json");
  return std::nullopt;
}

}  // namespace skewback::lodge
