#include "lodge/routes.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>

#include "deliver/fault_json.hpp"
#include "lodge/bench.hpp"
#include "lodge/body_json.hpp"

namespace skewback::lodge {
namespace {

using Json = nlohmann::ordered_json;

Reply state_reply(const Bench& bench) { return json_reply(bench.state()); }

std::string value_or_empty(const Request& request, const std::string& name) {
  const auto found = request.query.find(name);
  return found == request.query.end() ? "" : found->second;
}

std::optional<double> number(const std::string& text) {
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || end != text.data() + text.size() || !std::isfinite(value))
    return std::nullopt;
  return value;
}

Reply sheaf_reply(std::string bytes) {
  return {200, "application/octet-stream", std::move(bytes), {}};
}

Reply events(const Bench& bench, const Request&) {
  return {200, "text/event-stream", bench.state().dump(), {}};  // the server goes on from here
}

Reply findings(const Bench& bench, const Request&) { return json_reply(bench.findings()); }
Reply keys(const Bench& bench, const Request&) { return json_reply(bench.keys()); }
Reply state(const Bench& bench, const Request&) { return state_reply(bench); }

Reply node(const Bench& bench, const Request& request) {
  const auto x = number(value_or_empty(request, "x")), y = number(value_or_empty(request, "y"));
  if (!x || !y)
    return refusal(400, Faults{{"", 0, 0, "x, y", "", "two numbers, metres in plan", ""}});
  const auto found = bench.node(Vec2(*x, *y));
  return found ? json_reply(*found) : refusal(404, "there is no form yet");
}

Reply exported(const Bench& bench, const Request&) {
  auto file = bench.exported();
  if (!file) return refusal(404, "nothing to write out yet");
  const std::string name = file->draft ? "bridge-draft.html" : "bridge.html";
  return {200,
          "text/html; charset=utf-8",
          std::move(file->html),
          {{"Content-Disposition", "attachment; filename=\"" + name + "\""}}};
}

Reply compare(const Bench& bench, const Request& request) {
  return bench.compare(value_or_empty(request, "with"));
}

/// The state, or why there was no change: a revision that is not there any more (or not yet) is a
/// conflict, all else a bad message.
Reply changed_reply(const Bench& bench, const std::optional<Faults>& refused) {
  if (!refused) return state_reply(bench);
  const bool moved_on = std::any_of(refused->begin(), refused->end(),
                                    [](const Fault& f) { return f.key == "revision"; });
  return refusal(moved_on ? 409 : 400, *refused);
}

Reply edit(const Bench& bench, const Request& request) {
  const auto body = read_json_body(request.body);
  if (!body) return refusal(400, body.faults());
  const Result<int> revision = whole_of(*body, "revision");
  if (!revision) return refusal(400, revision.faults());
  if (!body->contains("changes") || !body->at("changes").is_array() ||
      body->at("changes").empty() || body->at("changes").size() > 200)
    return refusal(400, Faults{{"", 0, 0, "changes", "", "a list of 1 to 200 changes", ""}});
  std::vector<KeyChange> changes;
  Faults faults;
  for (const nlohmann::json& item : body->at("changes")) {
    const nlohmann::json change = item.is_object() ? item : nlohmann::json::object();
    const Result<std::string> key = text_of(change, "key"), text = text_of(change, "text");
    if (!key) faults.push_back(key.faults().front());
    if (!text) faults.push_back(text.faults().front());
    if (key && text) changes.push_back({*key, *text});
  }
  if (!faults.empty()) return refusal(400, faults);
  return changed_reply(bench, bench.edit(*revision, changes));
}

// For those whose message holds nothing that is read: an empty body will do as well.
Reply bare(const Bench& bench, const Request& request,
           const std::function<std::optional<Faults>()>& act) {
  if (!request.body.empty())
    if (const auto body = read_json_body(request.body); !body) return refusal(400, body.faults());
  return changed_reply(bench, act());
}

Reply reread(const Bench& bench, const Request& request) {
  const auto body = read_json_body(request.body);
  if (!body) return refusal(400, body.faults());
  const Result<int> revision = whole_of(*body, "revision");
  if (!revision) return refusal(400, revision.faults());
  return changed_reply(bench, bench.reread(*revision));
}

Reply undo(const Bench& bench, const Request& r) { return bare(bench, r, bench.undo); }
Reply redo(const Bench& bench, const Request& r) { return bare(bench, r, bench.redo); }
Reply stop(const Bench& bench, const Request& r) {
  return bare(bench, r, [&bench]() -> std::optional<Faults> {
    bench.stop();
    return std::nullopt;
  });
}

Reply save(const Bench& bench, const Request& request) {
  const auto body = read_json_body(request.body);
  if (!body) return refusal(400, body.faults());
  const Result<std::string> name = text_of(*body, "name");
  if (!name) return refusal(400, name.faults());
  const Result<std::string> written = bench.save(*name);
  if (!written) return refusal(400, written.faults());
  Json json = bench.state();
  json["written"] = *written;
  return json_reply(json);
}

Reply run(const Bench& bench, const Request& request) {
  const auto body = read_json_body(request.body);
  if (!body) return refusal(400, body.faults());
  const Result<std::string> until = text_of(*body, "until");
  if (!until || (*until != "proof" && *until != "whole"))
    return refusal(400, Faults{{"", 0, 0, "until", until ? *until : "", "proof or whole", ""}});
  *until == "whole" ? bench.run_whole() : bench.run_proof();
  return state_reply(bench);
}

Reply ask(const Bench& bench, const Request& request) {
  auto body = read_json_body(request.body);
  if (!body) return refusal(400, body.faults());
  const bool quick = body->contains("quick") && body->at("quick") == true;
  if (body->contains("quick") && !body->at("quick").is_boolean())
    return refusal(400, Faults{{"", 0, 0, "quick", "", "true or false", ""}});
  body.value().erase("quick");
  return bench.ask(*body, quick);
}

struct Route {
  const char* method;
  const char* path;
  Reply (*reply)(const Bench&, const Request&);
  bool (*there)(const Bench&);
};

const Route kRoutes[] = {
    {"GET", "/api/state", state, [](const Bench& b) { return bool(b.state); }},
    {"GET", "/api/events", events, [](const Bench& b) { return bool(b.state); }},
    {"GET", "/api/findings", findings, [](const Bench& b) { return bool(b.findings); }},
    {"GET", "/api/keys", keys, [](const Bench& b) { return bool(b.keys); }},
    {"GET", "/api/node", node, [](const Bench& b) { return bool(b.node); }},
    {"GET", "/api/compare", compare, [](const Bench& b) { return bool(b.compare); }},
    {"GET", "/api/export", exported, [](const Bench& b) { return bool(b.exported); }},
    {"POST", "/api/edit", edit, [](const Bench& b) { return bool(b.edit); }},
    {"POST", "/api/reread", reread, [](const Bench& b) { return bool(b.reread); }},
    {"POST", "/api/undo", undo, [](const Bench& b) { return bool(b.undo); }},
    {"POST", "/api/redo", redo, [](const Bench& b) { return bool(b.redo); }},
    {"POST", "/api/save", save, [](const Bench& b) { return bool(b.save); }},
    {"POST", "/api/run", run, [](const Bench& b) { return bool(b.run_whole); }},
    {"POST", "/api/stop", stop, [](const Bench& b) { return bool(b.stop); }},
    {"POST", "/api/ask", ask, [](const Bench& b) { return bool(b.ask); }},
};

Reply wrong_method(const char* allowed) {
  Reply reply = refusal(405, std::string("expected ") + allowed);
  reply.headers["Allow"] = allowed;
  return reply;
}

bool reads(const Request& r) { return r.method == "GET" || r.method == "HEAD"; }

Reply view_reply(const Bench& bench, const Request& request, const std::string& name) {
  const auto& names = view_names();
  if (!bench.view || std::find(names.begin(), names.end(), name) == names.end())
    return refusal(404, "there is no view of that name");
  if (!reads(request)) return wrong_method("GET, HEAD");
  auto shown = bench.view(name, request.query);
  if (!shown) return refusal(404, "nothing to show of it yet");
  return tagged(sheaf_reply(std::move(shown->bytes)), shown->tag, request);
}

Reply daybook_reply(const Bench& bench, const Request& request) {
  if (!bench.daybook) return refusal(404, "there is no daybook here: start with --daybook DIR");
  const bool record =
      request.path == "/api/daybook/record" || request.path == "/api/daybook/cancel";
  if (record && request.method != "POST") return wrong_method("POST");
  if (!record && !reads(request)) return wrong_method("GET, HEAD");
  return bench.daybook(request);
}

Json told(const Fault& fault, const std::string& says) {
  Json json = deliver::fault_json(fault);
  json["says"] = says;
  return json;
}

Reply faults_reply(int status, Json list) {
  Reply reply = json_reply({{"faults", std::move(list)}});
  reply.status = status;
  return reply;
}

}  // namespace

Reply refusal(int status, const Faults& faults) {
  auto list = Json::array();
  for (const Fault& f : faults) list.push_back(told(f, describe(f)));
  return faults_reply(status, std::move(list));
}

Reply refusal(int status, const std::string& says) {
  return faults_reply(status, Json::array({told({}, says)}));
}

Reply json_reply(const Json& json) {
  Reply reply;
  reply.body = json.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
  return reply;
}

Reply tagged(Reply reply, const std::string& tag, const Request& request) {
  if (request.if_none_match.find(tag) != std::string::npos) {
    reply.status = 304;
    reply.body.clear();
  }
  reply.headers["ETag"] = tag;
  return reply;
}

const std::vector<std::string>& view_names() {
  static const std::vector<std::string> names = {"shape",  "blocks",   "proof",  "ground",
                                                 "stages", "centring", "layers", "survey"};
  return names;
}

Reply api_reply(const Bench& bench, const Request& request) {
  const std::string view = "/api/view/";
  if (request.path.starts_with(view))
    return view_reply(bench, request, request.path.substr(view.size()));
  if (request.path == "/api/daybook" || request.path.starts_with("/api/daybook/"))
    return daybook_reply(bench, request);
  for (const Route& route : kRoutes) {
    if (request.path != route.path || !route.there(bench)) continue;
    const bool post = std::string(route.method) == "POST";
    if (post ? request.method != "POST" : !reads(request))
      return wrong_method(post ? "POST" : "GET, HEAD");
    return route.reply(bench, request);
  }
  return refusal(404, "there is nothing at this address");
}

}  // namespace skewback::lodge
