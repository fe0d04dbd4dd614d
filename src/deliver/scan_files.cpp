#include "deliver/scan_files.hpp"

#include <algorithm>
#include <bit>

#include "deliver/csv.hpp"
#include "deliver/paper.hpp"
#include "deliver/survey_sheets.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

using Json = nlohmann::ordered_json;

constexpr int kWidth = 900;

const std::string& name_of(const Dossier& dossier, const ComparedScan& scan) {
  return dossier.cut->assembly.blocks[static_cast<std::size_t>(scan.block)].id;
}

Image picture_of(const ComparedScan& scan, int width) {
  return scan_picture(scan.scan.vertices, scan.distances.distance_m, scan.scan.triangles,
                      scan_colours_most_m(scan), width);
}

void put_word(std::string& out, std::uint32_t word) {
  for (int k = 0; k < 4; ++k) out.push_back(static_cast<char>(word >> (8 * k) & 0xff));
}
void put_float(std::string& out, double x) {
  put_word(out, std::bit_cast<std::uint32_t>(static_cast<float>(x)));
}

std::string laid_ply(const ComparedScan& scan) {
  std::string out =
      "ply\nformat binary_little_endian 1.0\ncomment metres, the block as drawn; distance > 0: "
      "outside\nelement vertex " +
      std::to_string(scan.scan.vertices.size()) +
      "\nproperty float x\nproperty float y\nproperty float z\nproperty float distance\nproperty "
      "uchar red\nproperty uchar green\nproperty uchar blue\nelement face " +
      std::to_string(scan.scan.triangles.size()) +
      "\nproperty list uchar int vertex_indices\nend_header\n";
  const double most = scan_colours_most_m(scan);
  for (std::size_t i = 0; i < scan.scan.vertices.size(); ++i) {
    for (int c = 0; c < 3; ++c) put_float(out, scan.scan.vertices[i][c]);
    put_float(out, scan.distances.distance_m[i]);
    const Colour colour = scan_colour(scan.distances.distance_m[i], most);
    for (const auto part : {colour.r, colour.g, colour.b}) out.push_back(static_cast<char>(part));
  }
  for (const auto& t : scan.scan.triangles) {
    out.push_back(3);
    for (const int v : t) put_word(out, static_cast<std::uint32_t>(v));
  }
  return out;
}

std::string places_csv(const Dossier& dossier) {
  std::string text = csv_line({"block", "scan", "distance_mm", "where", "x_m", "y_m", "z_m"});
  for (const ComparedScan& scan : dossier.scans)
    for (const ScanPlace& place : scan.worst)
      text +=
          csv_line({name_of(dossier, scan), scan.file, mm_words(place.distance_m, 2), place.where,
                    fixed(place.at.x(), 4), fixed(place.at.y(), 4), fixed(place.at.z(), 4)});
  return text;
}

}  // namespace

double scan_colours_most_m(const ComparedScan& scan) {
  return std::max(0.0005, scan.distances.p95_m);
}

std::vector<OutputFile> scan_files(const Dossier& dossier) {
  std::vector<OutputFile> files;
  if (dossier.scans.empty()) return files;
  files.push_back({"asbuilt/scans.csv", places_csv(dossier)});
  for (const ComparedScan& scan : dossier.scans) {
    const std::string stem = "asbuilt/scan-" + file_stem(name_of(dossier, scan));
    files.push_back({stem + ".png", png(picture_of(scan, kWidth))});
    files.push_back({stem + ".ply", laid_ply(scan)});
  }
  return files;
}

Json scans_json(const Dossier& dossier) {
  Json out = Json::array();
  for (const ComparedScan& scan : dossier.scans) {
    const ScanDistances& d = scan.distances;
    Json worst = Json::array();
    for (const ScanPlace& place : scan.worst)
      worst.push_back({{"distance_m", place.distance_m},
                       {"where", place.where},
                       {"at", {place.at.x(), place.at.y(), place.at.z()}}});
    out.push_back({{"block", name_of(dossier, scan)},
                   {"file", scan.file},
                   {"vertices", scan.scan.vertices.size()},
                   {"closed", !scan.open},
                   {"rms_m", d.rms_m},
                   {"p95_m", d.p95_m},
                   {"outside_m", scan.outside_m},
                   {"inside_m", scan.inside_m},
                   {"worst", worst},
                   {"finding", scan.finding},
                   {"remarks", scan.remarks}});
  }
  return out;
}

void add_scans(Pages& pages, const Dossier& dossier) {
  if (dossier.scans.empty()) return;
  pages.new_page();
  pages.heading("Blocks against scans of them");
  pages.paragraph(
      "Each scan is laid on its block as drawn by the best fit of nearest faces; a place of it is "
      "proud where it lies outside the drawn surface and short where inside. What was not scanned "
      "is not judged.");
  std::vector<Row> rows;
  for (const ComparedScan& scan : dossier.scans)
    rows.push_back({{name_of(dossier, scan), scan.file, std::to_string(scan.scan.vertices.size()),
                     mm_words(scan.distances.rms_m, 2), mm_words(scan.distances.p95_m, 2),
                     mm_words(scan.outside_m, 2), mm_words(scan.inside_m, 2)},
                    {}});
  pages.table({{"block", 1},
               {"scan", 1.6},
               {"points", 0.9, true},
               {"rms (mm)", 0.8, true},
               {"95 % (mm)", 0.9, true},
               {"proud (mm)", 0.9, true},
               {"short (mm)", 0.9, true}},
              rows);
  for (const ComparedScan& scan : dossier.scans) {
    pages.keep(110);
    pages.subheading(name_of(dossier, scan));
    pages.paragraph(scan.finding + ".");
    for (const std::string& remark : scan.remarks) pages.bullet(remark);
    pages.picture(picture_of(scan, kWidth), 110);
    pages.figure(scan_scale(scan_colours_most_m(scan), 120), "");
  }
}

}  // namespace skewback::deliver
