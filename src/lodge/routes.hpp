#pragma once
// From a request to its answer, without sockets.

#include <map>
#include <string>

#include "lodge/desk.hpp"

namespace skewback::lodge {

struct Request {
  std::string method, path;  // path without the query, percent-decoded once
  std::map<std::string, std::string> query;
  std::string host, origin, token, type, body;
  std::string from;           // address of the other side
  std::string if_none_match;  // tags it already holds
  std::string fetch_site;     // Sec-Fetch-Site (W3C Fetch Metadata): who asks, as browsers say
};
struct Reply {
  int status = 200;
  std::string type = "application/json; charset=utf-8";
  std::string body;
  std::map<std::string, std::string> headers = {};
};
/// {"faults": [...]}
[[nodiscard]] Reply refusal(int status, const Faults& faults);
[[nodiscard]] Reply refusal(int status, const std::string& says);
[[nodiscard]] Reply json_reply(const nlohmann::ordered_json& json);
/// 304 without a body if the request holds `tag` already; else `reply` with the tag put to it.
[[nodiscard]] Reply tagged(Reply reply, const std::string& tag, const Request& request);

struct Bench;
/// What is under /api; the request passed the gate. 404 for what is not there, 405 for a wrong
/// method, 409 for a revision that has moved on. Throws only what the bench throws.
[[nodiscard]] Reply api_reply(const Bench& bench, const Request& request);

}  // namespace skewback::lodge
