#include "survey/scan_compare.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <map>

#include "geometry/near_surface.hpp"
#include "survey/joint_rows.hpp"
#include "survey/marks.hpp"
#include "survey/scan_start.hpp"
#include "survey/scan_where.hpp"

namespace skewback {
namespace {

constexpr std::size_t kStartsTried = 4, kRoughPoints = 2000;
constexpr double kSmaller = 0.5, kGreater = 1.25;  // size of a scan against its block
constexpr double kOfShape = 0.005;                 // m, more is no error of a block
constexpr double kAsWell = 1.5, kAsWellMore = 1e-4;
constexpr std::size_t kPlaces = 5;
constexpr double kApart = 0.2;  // of the block's size

std::size_t at(int i) { return static_cast<std::size_t>(i); }

TriangleMesh3 thinned(const TriangleMesh3& scan) {
  TriangleMesh3 out;
  const std::size_t stride = (scan.vertices.size() + kRoughPoints - 1) / kRoughPoints;
  for (std::size_t i = 0; i < scan.vertices.size(); i += std::max<std::size_t>(stride, 1))
    out.vertices.push_back(scan.vertices[i]);
  return out;
}

double middle_off(const ScanDistances& d) {
  std::vector<double> off;
  for (const double x : d.distance_m) off.push_back(std::abs(x));
  std::ranges::nth_element(off, off.begin() + static_cast<long>(off.size() / 2));
  return off[off.size() / 2];
}

struct Laid {
  Rigid X;
  double off_m = 0;  // in the middle of the distances
};
/// Nearest first; those of another way round behind it.
std::vector<Laid> lay(const Solid& solid, const ScanBody& body, const ScanBody& scan,
                      const TriangleMesh3& rough, const std::vector<Rigid>& also) {
  std::vector<Laid> out;
  std::vector<ScanStart> starts = scan_starts(body, scan, also);
  if (starts.size() > kStartsTried) starts.resize(kStartsTried);
  for (const ScanStart& start : starts) {
    const ScanDistances d = scan_distances(solid, rough, start.X);
    if (d.settled) out.push_back({d.moved, middle_off(d)});
  }
  std::ranges::stable_sort(out, {}, &Laid::off_m);
  return out;
}

/// The other unit in which the scan would be of the block's size; empty: none.
std::string unit_that_fits(double ratio, const std::string& unit) {
  const std::map<std::string, double> units = {
      {"mm", 1e-3}, {"cm", 1e-2}, {"m", 1}, {"in", 0.0254}, {"ft", 0.3048}};
  const auto given = units.find(unit);
  if (given == units.end()) return "";
  std::string best;
  double off = std::log(kGreater);
  for (const auto& [name, metres] : units) {
    const double here = std::abs(std::log(ratio * metres / given->second));
    if (name == unit || here > off) continue;
    off = here;
    best = name;
  }
  return best;
}

std::string times(double ratio) {
  char text[40];
  std::snprintf(text, sizeof text, ratio < 10 ? "%.2f" : "%.0f", ratio);
  return text;
}

Fault bad(const std::string& file, const std::string& block, const std::string& found,
          const std::string& expected, const std::string& change) {
  return {.file = file,
          .key = "scan of " + block,
          .found = found,
          .expected = expected,
          .change = change};
}

std::optional<Fault> size_fault(const ScanBody& body, const ScanBody& scan, const std::string& file,
                                const std::string& block, const std::string& unit) {
  const double ratio = scan.size_m / body.size_m;
  if (ratio > kSmaller && ratio < kGreater) return std::nullopt;
  const std::string other = unit_that_fits(ratio, unit);
  std::string change = ratio > 1 ? "cut off what is not the block, or check its name"
                                 : "scan more of the block, or check its name";
  if (!other.empty()) change = "its coordinates look like " + other + ": --scan-unit " + other;
  return bad(file, block,
             "a scan " + times(ratio) + " times the size of the block, read in " + unit,
             "about the size of the block", change);
}

/// Another block on which it lies more than twice as near.
std::optional<Fault> block_fault(const Assembly& assembly, int block, const ScanBody& scan,
                                 const TriangleMesh3& rough, double off_m,
                                 const std::string& file) {
  if (off_m <= kOfShape) return std::nullopt;
  int best = -1;
  double least = off_m / 2;
  for (std::size_t b = 0; b < assembly.blocks.size(); ++b) {
    if (assembly.blocks[b].fixed || static_cast<int>(b) == block) continue;
    const auto body = scan_body(assembly.blocks[b].solid.vertices);
    if (!body || scan.size_m / body->size_m < 0.9 || scan.size_m / body->size_m > 1.1) continue;
    const auto laid = lay(assembly.blocks[b].solid, *body, scan, rough, {});
    if (laid.empty() || laid.front().off_m >= least) continue;
    least = laid.front().off_m;
    best = static_cast<int>(b);
  }
  if (best < 0) return std::nullopt;
  return bad(
      file, assembly.blocks[at(block)].id,
      "a scan that lies " + in_mm(off_m) + " off the block in the middle, or never settles on it",
      "the block's own surface",
      "it fits " + assembly.blocks[at(best)].id + " to " + in_mm(least) + ": check the name");
}

void find_worst(const Assembly& assembly, double size_m, ComparedScan& out) {
  const std::vector<double>& d = out.distances.distance_m;
  std::vector<std::size_t> order(d.size());
  for (std::size_t i = 0; i < d.size(); ++i) {
    order[i] = i;
    out.outside_m = std::max(out.outside_m, d[i]);
    out.inside_m = std::max(out.inside_m, -d[i]);
  }
  std::ranges::stable_sort(
      order, [&](std::size_t a, std::size_t b) { return std::abs(d[a]) > std::abs(d[b]); });
  const double floor_m = out.distances.worst_m / 4;
  for (const std::size_t i : order) {
    if (out.worst.size() == kPlaces || std::abs(d[i]) < floor_m || std::abs(d[i]) < 1e-5) break;
    const Vec3& p = out.scan.vertices[i];
    if (std::ranges::any_of(out.worst, [&](const ScanPlace& place) {
          return (place.at - p).norm() < kApart * size_m;
        }))
      continue;
    out.worst.push_back({p, d[i], where_on_block(assembly, out.block, p)});
  }
}

bool is_closed(const TriangleMesh3& mesh) {
  Solid solid{mesh.vertices, {}};
  for (const auto& t : mesh.triangles) solid.faces.push_back({t[0], t[1], t[2]});
  return closed(solid);
}

std::string in_words(const Assembly& assembly, const ComparedScan& out) {
  const ScanDistances& d = out.distances;
  std::string text = assembly.blocks[at(out.block)].id + ": " + in_mm(d.rms_m) +
                     " off root mean square, 95 % within " + in_mm(d.p95_m);
  for (const ScanPlace& place : out.worst) {
    text += (&place == &out.worst.front() ? "; most: " : ", ") + in_mm(std::abs(place.distance_m)) +
            (place.distance_m > 0 ? " proud on " : " short on ") + place.where;
    if (&place - &out.worst.front() == 2) break;
  }
  return text;
}

}  // namespace

Result<ComparedScan> compare_scan(const Assembly& assembly, const SiteGrid& site, int block,
                                  const TriangleMesh3& scan, const std::string& file,
                                  const std::string& unit) {
  const Block& of = assembly.blocks[at(block)];
  const auto body = scan_body(of.solid.vertices), seen = scan_body(scan.vertices);
  if (!body || !seen)
    return bad(file, of.id, "points in one plane, or fewer than four",
               "a surface with a body to it", "scan more sides of the block");
  if (auto fault = size_fault(*body, *seen, file, of.id, unit)) return *fault;
  const TriangleMesh3 rough = thinned(scan);
  const Vec3 origin = from_site(site, Vec3::Zero());
  Mat3 turn;
  for (int c = 0; c < 3; ++c) turn.col(c) = from_site(site, Vec3::Unit(c)) - origin;
  const std::vector<Laid> laid = lay(of.solid, *body, *seen, rough, {Rigid{}, Rigid{turn, origin}});
  const double off = laid.empty() ? body->size_m : laid.front().off_m;
  if (auto fault = block_fault(assembly, block, *seen, rough, off, file)) return *fault;
  if (laid.empty())
    return bad(file, of.id, "a scan that does not settle on the block", "the block's own surface",
               "check the name, and cut off what is not the block");
  ComparedScan out;
  out.block = block;
  out.file = file;
  out.open = !is_closed(scan);
  out.distances = scan_distances(of.solid, scan, laid.front().X);
  if (!out.distances.settled) return bad(file, of.id, out.distances.reason, "", "");
  out.scan = scan;
  for (Vec3& p : out.scan.vertices) p = out.distances.moved(p);
  for (std::size_t k = 1; k < laid.size(); ++k) {
    const double far = (laid[k].X(seen->mass.centroid + Vec3(1, 1, 1)) -
                        laid.front().X(seen->mass.centroid + Vec3(1, 1, 1)))
                           .norm();
    if (far < 0.05 || laid[k].off_m > kAsWell * laid.front().off_m + kAsWellMore) continue;
    out.remarks.push_back("the scan of " + of.id +
                          " fits another way round as well: which face is which is a guess");
    break;
  }
  if (middle_off(out.distances) > kOfShape)
    out.remarks.push_back("the scan of " + of.id + " lies " + in_mm(middle_off(out.distances)) +
                          " off in the middle: more than an error of shape; check name and unit");
  find_worst(assembly, body->size_m, out);
  out.finding = in_words(assembly, out);
  return out;
}

}  // namespace skewback
