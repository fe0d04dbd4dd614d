#include "lodge/lodge.hpp"

#include "base/timing.hpp"
#include "daybook/daybook.hpp"
#include "lodge/assets.hpp"
#include "lodge/desk_bench.hpp"
#include "lodge/gate.hpp"
#include "lodge/server.hpp"

namespace skewback::lodge {
namespace {

Fault fault(const char* key, const std::string& found, const char* expected, const char* change) {
  return {"", 0, 0, key, found, expected, change};
}

bool good_token(const std::string& token) {
  return token.size() >= 16 && token.size() <= 200 &&
         token.find_first_not_of(
             "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_") ==
             std::string::npos;
}

std::optional<Faults> faults_of(const ServeOptions& options) {
  Faults faults;
  if (options.token.empty() && !is_loopback(options.listen))
    faults.push_back(fault("--listen", options.listen,
                           "a token, so that only those asked can write",
                           "--token-file FILE, or leave --listen out: this machine only"));
  if (!options.token.empty() && !good_token(options.token))
    faults.push_back(fault("--token-file", std::to_string(options.token.size()) + " bytes",
                           "a token of 16 to 200 letters, figures, '-' or '_'", ""));
  if (!options.daybook.empty())
    if (const auto book = Daybook::open(options.daybook); !book)
      faults.insert(faults.end(), book.faults().begin(), book.faults().end());
  if (faults.empty()) return std::nullopt;
  return faults;
}

std::string address(const std::string& listen, int port) {
  const bool six = listen.find(':') != std::string::npos;
  return "http://" + (six ? "[" + listen + "]" : listen) + ":" + std::to_string(port) + "/";
}

}  // namespace

std::optional<Faults> serve(const ServeOptions& options, const std::atomic<bool>& stop,
                            const std::function<void(const std::string&)>& ready) {
  if (auto faults = faults_of(options)) return faults;
  auto server = Server::bind(options.listen, options.port);
  if (!server) return server.faults();
  const int port = (*server)->port();
  Events events;  // before the desk, which tells it of its work until it ends
  auto opened = Desk::open({options.brief, options.jobs});
  if (!opened) return opened.faults();
  Desk& desk = **opened;

  const std::string token = options.token.empty() ? random_token() : options.token;
  if (built_page().empty() && options.remark)
    options.remark("built without its page (-DSKEWBACK_PAGE=OFF): only what is under /api answers");
  const Pages pages(built_page(), is_loopback(options.listen) ? token : "");
  Gate gate(gate_rules(options.listen, port, token));
  std::optional<DaybookWatch> watch;
  if (!options.daybook.empty()) watch.emplace(options.daybook, events);
  const Bench bench = bench_of(
      desk, {options.daybook, watch ? &*watch : nullptr, std::string(pages.for_viewing()), &stop});
  desk.listen([&](const std::string& what, const nlohmann::ordered_json& json) {
    const auto told = what == "state" ? whole_state(json, watch.has_value()) : json;
    events.publish(what, told.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace));
  });
  const Stopwatch clock;
  (*server)->run(
      [&](const Request& request) {
        if (auto refused = gate.refuses(request, clock.seconds())) return *refused;
        return request.path.starts_with("/api/") ? api_reply(bench, request) : pages.reply(request);
      },
      events, stop, [&] { ready(address(options.listen, port)); });
  desk.listen([](const std::string&, const nlohmann::ordered_json&) {});
  desk.stop();
  if (options.remark && !desk.state().value("saved", true))
    options.remark("changes were made that are in no file: they are gone");
  return std::nullopt;
}

}  // namespace skewback::lodge
