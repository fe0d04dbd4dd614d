#include "verify/verify.hpp"

#include <algorithm>
#include <exception>

#include "verify/absorb.hpp"
#include "verify/check_motion.hpp"

namespace skewback {

namespace fs = std::filesystem;

std::size_t VerifyReport::failed() const {
  return static_cast<std::size_t>(std::count_if(
      files.begin(), files.end(), [](const auto& v) { return !v.ok && v.kind != "none"; }));
}

std::size_t VerifyReport::unclaimed() const {
  return static_cast<std::size_t>(
      std::count_if(files.begin(), files.end(), [](const auto& v) { return v.kind == "none"; }));
}

bool VerifyReport::ok() const { return failed() == 0 && unclaimed() < files.size(); }

namespace {

using namespace audit;

std::vector<std::string> assumptions(const Model& model, const Evidence& evidence) {
  std::vector<std::string> all;
  const auto present = std::count(evidence.present.begin(), evidence.present.end(), 1);
  if (static_cast<std::size_t>(present) < model.bodies.size()) {
    all.push_back(std::to_string(present) + " of " + std::to_string(model.bodies.size()) +
                  " blocks there");
  }
  if (!evidence.props.empty()) all.push_back(std::to_string(evidence.props.size()) + " props");
  if (evidence.friction)
    all.push_back("friction " + number(*evidence.friction) + " in every joint");
  return all;
}

void check_claim(const Model& model, const std::vector<Contact>& contacts, const Evidence& evidence,
                 EvidenceVerdict& verdict) {
  if (evidence.kind == "none") {
    verdict.reasons.push_back("claims nothing: the case is undecided");
    return;
  }
  const auto loads = model.cases.find(evidence.case_id);
  if (loads == model.cases.end()) {
    verdict.reasons.push_back("the assembly has no case \"" + evidence.case_id + "\"");
    return;
  }
  if (loads->second.has_live() && !evidence.load_factor) {
    verdict.reasons.push_back("no load factor for a case with live load");
    return;
  }
  verdict.ok = true;
  const double factor = evidence.load_factor.value_or(0);
  const auto check = evidence.kind == "forces" ? check_forces : check_mechanism;
  check(model, contacts, evidence, loads->second, factor, verdict);
  if (verdict.ok && evidence.kind == "forces")
    absorb_residual(model, contacts, evidence, loads->second, factor, verdict);
}

EvidenceVerdict check_file(const fs::path& file, const fs::path& folder, const Model& model,
                           const std::vector<Contact>& contacts) {
  EvidenceVerdict verdict;
  verdict.file = file.lexically_relative(folder).generic_string();
  try {
    const Evidence evidence = read_evidence(file, model);
    verdict.case_id = evidence.case_id;
    verdict.kind = evidence.kind;
    verdict.load_factor = evidence.load_factor;
    verdict.assumes = assumptions(model, evidence);
    check_claim(model, contacts, evidence, verdict);
  } catch (const std::exception& e) {
    give_reason(verdict, std::string("cannot be read: ") + e.what());
  }
  return verdict;
}

std::vector<fs::path> listed(const fs::path& folder, bool folders) {
  std::vector<fs::path> all;
  std::error_code error;
  for (const auto& entry : fs::directory_iterator(folder, error)) {
    const auto& name = entry.path().filename();
    const bool wanted = folders ? entry.is_directory() && name != "evidence" && name != "motion"
                                : entry.is_regular_file() && entry.path().extension() == ".json";
    if (wanted) all.push_back(entry.path());
  }
  std::sort(all.begin(), all.end());
  return all;
}

Fault fault(const fs::path& file, const std::string& found, const std::string& expected) {
  return {.file = file.string(), .key = {}, .found = found, .expected = expected, .change = {}};
}

// The evidence of one folder, without its subfolders.
void check_folder(const fs::path& here, const fs::path& root, VerifyReport& report,
                  Faults& faults) {
  const auto files = listed(here / "evidence", false), motions = listed(here / "motion", false);
  if (files.empty() && motions.empty()) return;
  try {
    const Model model = read_model(here / "assembly.json", here / "evidence-points.json");
    const std::vector<Contact> contacts = derive_contacts(model);
    for (const fs::path& file : files)
      report.files.push_back(check_file(file, root, model, contacts));
    for (const fs::path& file : motions) {
      report.files.push_back(check_motion(file, model, contacts));
      report.files.back().file = file.lexically_relative(root).generic_string();
    }
  } catch (const std::exception& e) {
    faults.push_back(fault(here / "assembly.json", e.what(), "an assembly that can be read"));
  }
}

}  // namespace

Result<VerifyReport> verify_folder(const fs::path& folder) {
  std::error_code error;
  if (!fs::is_directory(folder, error)) {
    return fault(folder, fs::exists(folder, error) ? "not a folder" : "no such folder",
                 "a folder with assembly.json and evidence/ or motion/");
  }
  VerifyReport report;
  Faults faults;
  check_folder(folder, folder, report, faults);
  for (const fs::path& sub : listed(folder, true)) check_folder(sub, folder, report, faults);
  if (!faults.empty()) return faults;
  if (report.files.empty())
    return fault(folder, "no evidence/*.json and no motion/*.json", "evidence to check");
  return report;
}

}  // namespace skewback
