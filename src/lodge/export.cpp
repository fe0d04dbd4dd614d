#include "lodge/export.hpp"

#include <algorithm>
#include <map>

#include "deliver/facts.hpp"
#include "deliver/text.hpp"
#include "lodge/export_page.hpp"
#include "lodge/finding.hpp"
#include "lodge/views.hpp"

namespace skewback::lodge {
namespace {

constexpr std::array kPartWords{"the shape", "the blocks", "the proof", "the whole"};

/// What of the bridge is in the file, and how it stands to the newest revision.
struct Standing {
  int of = 1;
  int newest = 1;
  std::array<bool, 4> there = {};  // by Part
  std::array<ExportOf::OnePart, 4> parts = {};

  Standing(const Dossier& d, const ExportOf& from)
      : of(from.of),
        newest(from.newest),
        there{d.form.has_value(), deliver::assembly_of(d) != nullptr, !d.proofs.empty(),
              d.programme.has_value() || d.ground.has_value()},
        parts(from.parts) {}
  [[nodiscard]] bool fresh(Part which) const {
    const auto p = static_cast<std::size_t>(which);
    return there[p] && of == newest && parts[p].failed.empty() && parts[p].draft.empty();
  }
};

class Parts {
 public:
  explicit Parts(const Standing& standing) : standing_(standing) {}
  /// False: it would be more than `most` of its kind together.
  bool sheaf(const std::string& key, Part of, std::optional<Sheaf> sheaf,
             std::size_t most = ~std::size_t{0}) {
    if (!sheaf) return true;
    sheaf->head["of"] = standing_.of;
    sheaf->head["fresh"] = standing_.fresh(of);
    std::string bytes = sheaf->bytes();
    if (taken_ + bytes.size() > most) {
      left_out_.push_back(key);
      return false;
    }
    taken_ += bytes.size();
    parts_.push_back({PagePart::Kind::kSheaf, key, std::move(bytes)});
    return true;
  }
  void json(const std::string& key, const Json& json) {
    parts_.push_back({PagePart::Kind::kJson, key, json.dump()});
  }
  void count_from_here() { taken_ = 0; }
  [[nodiscard]] std::vector<PagePart> all() {
    json("left-out", Json(left_out_));
    return std::move(parts_);
  }

 private:
  const Standing& standing_;
  std::vector<PagePart> parts_;
  std::vector<std::string> left_out_;
  std::size_t taken_ = 0;
};

Json part_json(const Standing& standing, Part which) {
  const auto p = static_cast<std::size_t>(which);
  return {{"of", standing.there[p] ? Json(standing.of) : Json()},
          {"fresh", standing.fresh(which)},
          {"failed", standing.parts[p].failed},
          {"draft", standing.there[p] ? standing.parts[p].draft : ""},
          {"took_s", 0}};
}

// As GET /api/state, of a bridge that nobody changes. The folder it came from is nobody's business.
Json state_json(const Dossier& d, const Standing& standing) {
  return {{"name", d.brief.name},
          {"title", d.brief.title},
          {"file", d.brief.file.filename().string()},
          {"folder", ""},
          {"revision", standing.newest},
          {"saved", true},
          {"undo", false},
          {"redo", false},
          {"busy", nullptr},
          {"daybook", false},
          {"parts",
           {{"shape", part_json(standing, Part::kShape)},
            {"blocks", part_json(standing, Part::kBlocks)},
            {"proof", part_json(standing, Part::kProof)},
            {"whole", part_json(standing, Part::kWhole)}}}};
}

Json findings_json(const Dossier& d, const Standing& standing, const std::string& warning) {
  Json list = Json::array();
  if (!warning.empty())
    list.push_back({{"id", "draft"},
                    {"weight", static_cast<int>(kNotChecked)},
                    {"share", nullptr},
                    {"says", warning},
                    {"place", nowhere()},
                    {"moment", "drawn"}});
  Json found = findings(d);
  for (Json& one : found.at("list")) list.push_back(std::move(one));
  const Part furthest = d.proofs.empty() ? Part::kShape : Part::kProof;
  return {{"of", standing.of}, {"fresh", standing.fresh(furthest)}, {"list", std::move(list)}};
}

void put_proofs(const Dossier& d, std::size_t most, Parts& parts) {
  if (d.proofs.empty()) return;
  parts.count_from_here();
  parts.sheaf("proof", Part::kProof, proof_view(d, ""));
  for (const std::size_t i : deliver::worst_first(d.proofs))
    parts.sheaf("proof?case=" + percent(d.proofs[i].id), Part::kProof,
                proof_view(d, d.proofs[i].id), most);
}

void put_layers(const Dossier& d, std::size_t most, Parts& parts) {
  if (!d.print) return;
  parts.sheaf("layers", Part::kWhole, layers_view(d, ""));
  parts.count_from_here();
  for (const BlockPrint& block : d.print->blocks)
    parts.sheaf("layers?block=" + percent(block.id), Part::kWhole, layers_view(d, block.id), most);
}

}  // namespace

std::string draft_words(const ExportOf& of) {
  std::vector<std::string> older, lacks, failed;
  for (std::size_t p = 0; p < of.parts.size(); ++p) {
    const ExportOf::OnePart& part = of.parts[p];
    if (part.of > 0 && part.of < of.of)
      older.push_back(std::string(kPartWords[p]) + " (revision " + std::to_string(part.of) + ")");
    if (part.of == of.of && !part.draft.empty()) lacks.push_back(part.draft);
    if (!part.failed.empty())
      failed.push_back(std::string(kPartWords[p]) + " did not come out: " + part.failed);
  }
  const auto known = [&](Part which) {
    return of.parts[static_cast<std::size_t>(which)].of == of.of;
  };
  const bool proved = known(Part::kProof) || known(Part::kWhole);
  if (!proved && (known(Part::kShape) || known(Part::kBlocks)) &&
      of.parts[static_cast<std::size_t>(Part::kProof)].failed.empty())
    lacks.emplace_back("nothing of it is proved yet");
  std::string text;
  const auto add = [&](const std::string& says) { text += (text.empty() ? "" : " ") + says; };
  if (!lacks.empty()) add("This file is a draft: " + stopped(deliver::joined(lacks, "; ")));
  if (of.of < of.newest)
    add("All in this file is of revision " + std::to_string(of.of) +
        "; the brief has gone on to revision " + std::to_string(of.newest) + ".");
  for (const std::string& why : failed) add(sentence(why));
  if (!older.empty())
    add("Left out, since only an older revision of it is known: " + deliver::joined(older, ", ") +
        ".");
  return text;
}

std::optional<Exported> export_newest(const Source& source, const std::string& page) {
  // all parts as they are at one moment, as near as can be: work goes on
  std::map<Part, Known> known;
  ExportOf of;
  of.newest = source.revision();
  for (const Part part : {Part::kShape, Part::kBlocks, Part::kProof, Part::kWhole}) {
    const Known& one = known[part] = source.known(part);
    of.parts[static_cast<std::size_t>(part)] = {one.dossier ? one.of : 0, one.failed, one.draft};
    of.newest = std::max(of.newest, one.of);
  }
  const auto all =
      newest_first({[&](Part part) { return known.at(part); }, [&] { return of.newest; }});
  if (all.empty()) return std::nullopt;
  of.of = all.front().of;
  return Exported{export_html(*all.front().dossier, page, of), !draft_words(of).empty()};
}

std::string export_html(const Dossier& dossier, const std::string& page, const ExportOf& of,
                        std::size_t most_bytes) {
  const Standing standing(dossier, of);
  Parts parts(standing);
  parts.json("/api/state", state_json(dossier, standing));
  parts.json("/api/findings", findings_json(dossier, standing, draft_words(of)));
  parts.json("/api/keys", Json{{"revision", standing.newest}, {"groups", Json::array()}});
  parts.sheaf("shape", Part::kShape, shape_view(dossier));
  parts.sheaf("blocks", Part::kBlocks, blocks_view(dossier));
  parts.sheaf("ground", Part::kWhole, ground_view(dossier));
  parts.sheaf("stages", Part::kWhole, stages_view(dossier));
  parts.sheaf("centring", Part::kWhole, centring_view(dossier));
  parts.sheaf("survey", Part::kWhole, survey_view(dossier));
  put_proofs(dossier, most_bytes, parts);
  put_layers(dossier, most_bytes, parts);
  return fill_page(page, parts.all());
}

}  // namespace skewback::lodge
