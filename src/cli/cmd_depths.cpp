#include "cli/cmd_depths.hpp"

#include <filesystem>
#include <iostream>
#include <nlohmann/json.hpp>

#include "base/write_file.hpp"
#include "cli/console.hpp"
#include "cli/table.hpp"
#include "lodge/desk.hpp"
#include "works/depth_design.hpp"

namespace skewback::cli {
namespace {

nlohmann::ordered_json number(const std::optional<double>& value) {
  return value ? nlohmann::ordered_json(*value) : nlohmann::ordered_json(nullptr);
}

std::string as_json(const DepthDesign& design) {
  nlohmann::ordered_json out{{"depth_crown_m", design.crown_m},
                             {"depth_springing_m", design.springing_m},
                             {"holds", design.holds},
                             {"ruled_by", design.ruled_by},
                             {"tried", nlohmann::ordered_json::array()}};
  for (const DepthRow& r : design.rows)
    out["tried"].push_back({{"depth_crown_m", r.crown_m},
                            {"depth_springing_m", r.springing_m},
                            {"mass_kg", r.mass_kg},
                            {"thrust_n", r.thrust_n},
                            {"patterns_need_share", number(r.patterns_need)},
                            {"dead_needs_share", number(r.dead_needs)},
                            {"governs", r.governs},
                            {"live_factor", number(r.live_factor)},
                            {"joint_stress_reserve", number(r.stress_reserve)},
                            {"fails", r.fails}});
  for (const NetPattern& n : design.net)
    out["net"].push_back({{"case", n.id},
                          {"share_of_depth", n.trouble.empty() ? number(n.share) : number({})},
                          {"worst_m", {n.worst.x(), n.worst.y(), n.worst.z()}},
                          {"thrust_n", n.thrust_n},
                          {"trouble", n.trouble}});
  return out.dump(1) + "\n";
}

std::string as_table(const DepthDesign& design) {
  std::vector<Row> rows{{"crown mm", "springing mm", "mass kg", "thrust kN", "patterns need",
                         "dead needs", "governs", "live factor", "stress reserve", "fails"}};
  for (const DepthRow& r : design.rows)
    rows.push_back({fixed(1e3 * r.crown_m, 0), fixed(1e3 * r.springing_m, 0), fixed(r.mass_kg, 0),
                    fixed(r.thrust_n / 1e3, 1), or_dash(r.patterns_need, 1, 3),
                    or_dash(r.dead_needs, 1, 3), r.governs, or_dash(r.live_factor, 1, 2),
                    or_dash(r.stress_reserve, 1, 2), r.fails.empty() ? "-" : r.fails});
  return table(rows);
}

std::string net_table(const DepthDesign& design) {
  std::vector<Row> rows{{"pattern", "thrust kN", "of the depth", "farthest at"}};
  for (const NetPattern& n : design.net) {
    if (n.trouble.empty())
      rows.push_back({n.id, fixed(n.thrust_n / 1e3, 1), fixed(n.share, 3),
                      "(" + fixed(n.worst.x(), 2) + ", " + fixed(n.worst.y(), 2) + ")"});
    else
      rows.push_back({n.id, "-", "-", n.trouble});
  }
  return table(rows);
}

Result<double> depth_of(const std::string& option, const std::string& text) {
  if (text.empty()) return 0.0;
  Result<double> value = read_quantity(text, "m");
  if (value && *value > 0) return value;
  Fault fault = value ? Fault{.found = text, .expected = "a depth over 0"} : value.faults().front();
  fault.key = option;
  return fault;
}

std::string in_mm(double depth_m) { return "\"" + fixed(1e3 * depth_m, 0) + " mm\""; }

std::optional<Faults> save(const Brief& brief, const DepthDesign& design,
                           const std::filesystem::path& file) {
  std::vector<lodge::KeyChange> changes{{"section.depth_crown", in_mm(design.crown_m)},
                                        {"section.depth_springing", in_mm(design.springing_m)}};
  if (brief.section.depth == kDepthFromThrust)  // they are found now
    changes.push_back({"section.depth", "\"" + std::string(kDepthAsGiven) + "\""});
  const Result<std::string> text = lodge::patch_text(brief.text, changes, brief.file.string());
  if (!text) return text.faults();
  if (auto fault = write_whole(file, *text)) return Faults{*fault};
  return std::nullopt;
}

}  // namespace

int depths_command(const DepthsCommandOptions& options, ProgressLine& line) {
  const Result<Brief> brief = read_brief(options.brief);
  Faults faults = brief ? Faults{} : brief.faults();
  DepthWish wish;
  wish.reserve = options.reserve;
  wish.jobs = options.jobs;
  for (const auto& [name, text, slot] :
       {std::tuple{"--least", &options.least, &wish.least_m},
        std::tuple{"--greatest", &options.greatest, &wish.greatest_m}}) {
    const Result<double> depth = depth_of(name, *text);
    if (depth)
      *slot = *depth;
    else
      faults.push_back(depth.faults().front());
  }
  if (!options.save.empty() && std::filesystem::exists(options.save))
    faults.push_back(
        {options.save.string(), 0, 0, "--save", "a file that is there already", "a new name", ""});
  if (!faults.empty()) {
    print_faults(faults, options.json);
    return kBadInput;
  }
  const Result<DepthDesign> design = depth_from_thrust(*brief, wish, line.progress());
  line.clear();
  if (!design) {
    print_faults(design.faults(), options.json);
    return kBadInput;
  }
  if (!options.save.empty())
    if (const auto wrong = save(*brief, *design, options.save)) {
      print_faults(*wrong, options.json);
      return kBadInput;
    }
  if (options.json) {
    std::cout << as_json(*design);
    return design->holds ? kDone : kNotPassed;
  }
  std::cout << brief->title << ": depth from the thrust\n\n" << as_table(*design) << "\n";
  std::cout << "depth_crown = " << in_mm(design->crown_m)
            << ", depth_springing = " << in_mm(design->springing_m) << "; ruled by "
            << design->ruled_by << "\n";
  if (!design->holds)
    std::cout << "Not proved at these depths: " << design->rows.back().fails
              << ": exit code 3. A greater --greatest, another rise or span may help.\n";
  std::cout
      << "Not looked at here: the worst place for people, the moved shape and other states, "
         "footings moved,\nthe blocks' own strength, centring, building, printing, lifting. A "
         "run of the brief with these depths\nlooks at them, and may ask for more.\n";
  if (!design->net.empty())
    std::cout
        << "\nThe same geometry under each pattern at the live factor required: forces of the "
           "form's net, its\nthrust surface as near to the middle of the depth as was found "
           "(1: at its edge). An upper bound: whole\nblocks, proved above, share more "
           "between them than the net's fibres can.\n\n"
        << net_table(*design);
  if (!options.save.empty()) std::cout << "Written: " << options.save.string() << "\n";
  return design->holds ? kDone : kNotPassed;
}

}  // namespace skewback::cli
