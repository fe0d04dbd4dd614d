#include "lodge/desk_bench.hpp"

#include "deliver/facts.hpp"
#include "lodge/another_brief.hpp"
#include "lodge/compare.hpp"
#include "lodge/export.hpp"
#include "lodge/file_beside.hpp"
#include "lodge/questions.hpp"
#include "lodge/shelf.hpp"
#include "lodge/site_routes.hpp"
#include "lodge/views.hpp"

namespace skewback::lodge {
namespace {

void add_changes(Bench& bench, Desk& desk) {
  bench.edit = [&desk](int revision, const std::vector<KeyChange>& changes) {
    return desk.edit(revision, changes);
  };
  bench.reread = [&desk](int revision) { return desk.reread(revision); };
  bench.undo = [&desk] { return desk.undo(); };
  bench.redo = [&desk] { return desk.redo(); };
  bench.run_proof = [&desk] { desk.run_proof(); };
  bench.run_whole = [&desk] { desk.run_whole(); };
  bench.stop = [&desk] { desk.stop(); };
  bench.save = [&desk](const std::string& name) -> Result<std::string> {
    const auto written = desk.save(name);
    if (!written) return written.faults();
    return written->filename().string();
  };
}

void add_views(Bench& bench, Desk& desk, const Around& around) {
  const auto shelf = std::make_shared<Shelf>(source_of(desk));
  bench.view = [shelf](const std::string& name, const std::map<std::string, std::string>& query) {
    return shelf->view(name, query);
  };
  bench.findings = [shelf] { return shelf->findings(); };
  bench.node = [shelf](const Vec2& at) { return shelf->node(at); };
  if (around.page_for_viewing.empty()) return;
  bench.exported = [&desk, page = around.page_for_viewing] {
    return export_newest(source_of(desk), page);
  };
}

std::optional<Picked> newest_proved(const Source& source) {
  for (const Picked& picked : newest_first(source))
    if (!picked.dossier->proofs.empty()) return picked;
  return std::nullopt;
}

Reply briefs_reply(const Desk& desk) {
  const nlohmann::ordered_json state = desk.state();
  const std::string open = std::filesystem::path(state.value("file", "")).filename().string();
  return json_reply({{"briefs", briefs_beside(desk.folder(), open)}});
}

void add_compare(Bench& bench, Desk& desk, const std::atomic<bool>* stop) {
  const auto another = std::make_shared<AnotherBrief>();
  bench.compare = [&desk, another, stop](const std::string& name) {
    static const std::atomic<bool> never{false};
    if (name.empty()) return briefs_reply(desk);
    const auto file = file_beside(desk.folder(), name);
    if (!file) return refusal(400, file.faults());
    const auto now = newest_proved(source_of(desk));
    if (!now) return refusal(404, "nothing is proved yet to lay it over");
    const auto before = another->worked_out(*file, stop ? *stop : never);
    if (!before) {
      const bool busy = before.faults().front().key == AnotherBrief::kBusy;
      return busy ? refusal(429, "another comparison is being worked out")
                  : refusal(400, before.faults());
    }
    auto sheaf = compare_view(**before, *now->dossier);
    if (!sheaf) return refusal(404, "one of the two has no blocks");
    sheaf->head = headed("compare", *now, sheaf->head);
    return Reply{200, "application/octet-stream", sheaf->bytes(), {}};
  };
}

void add_daybook(Bench& bench, Desk& desk, const Around& around) {
  if (around.daybook.empty()) return;
  bench.daybook = [&desk, folder = around.daybook, watch = around.watch](const Request& request) {
    std::shared_ptr<const Dossier> cut;
    for (const Picked& picked : newest_first(source_of(desk)))
      if (!cut && deliver::assembly_of(*picked.dossier)) cut = picked.dossier;
    Reply reply = site_reply(folder, cut ? deliver::assembly_of(*cut) : nullptr, request);
    if (request.method == "POST" && reply.status == 200 && watch != nullptr) watch->look();
    return reply;
  };
}

}  // namespace

nlohmann::ordered_json whole_state(nlohmann::ordered_json state, bool daybook) {
  state["daybook"] = daybook;
  return state;
}

Bench bench_of(Desk& desk, const Around& around) {
  Bench bench;
  bench.state = [&desk, daybook = !around.daybook.empty()] {
    return whole_state(desk.state(), daybook);
  };
  bench.keys = [&desk] { return desk.keys(); };
  add_changes(bench, desk);
  add_views(bench, desk, around);
  add_questions(bench, source_of(desk));
  add_compare(bench, desk, around.stop);
  add_daybook(bench, desk, around);
  return bench;
}

}  // namespace skewback::lodge
