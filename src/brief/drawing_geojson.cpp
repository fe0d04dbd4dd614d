// GeoJSON (RFC 7946): features whose properties say what they are. Coordinates must be lengths.

#include <nlohmann/json.hpp>

#include "brief/drawing.hpp"
#include "brief/text.hpp"

namespace skewback {
namespace {

using Json = nlohmann::json;

class GeoJsonReader {
 public:
  explicit GeoJsonReader(const DrawingFile& file) : file_(file) {}

  Result<Drawing> read() {
    const Json root = Json::parse(file_.text, nullptr, false);
    if (root.is_discarded()) return syntax_fault();
    if (!root.is_object())
      return file_.fault(0, "", "JSON that is no object", "a FeatureCollection", "");
    const Result<double> unit = metres(root);
    if (!unit) return unit.faults();
    metres_ = *unit;
    const std::string type = text(root, "type");
    if (type == "Feature") {
      feature(root, "feature");
    } else if (type == "FeatureCollection" && root.contains("features") &&
               root["features"].is_array()) {
      for (std::size_t i = 0; i < root["features"].size(); ++i)
        feature(root["features"][i], "feature " + std::to_string(i + 1));
    } else {
      return file_.fault(0, "", "a GeoJSON object of type " + in_quotes(type),
                         "a FeatureCollection", "give each line its feature, with properties");
    }
    if (!faults_.empty()) return faults_;
    return drawing_;
  }

 private:
  [[nodiscard]] Fault syntax_fault() const {
    std::string reason;
    try {
      const Json again = Json::parse(file_.text);
    } catch (const Json::parse_error& error) {
      const std::size_t at = std::min(error.byte, file_.text.size());
      const int line =
          1 + static_cast<int>(std::count(
                  file_.text.begin(), file_.text.begin() + static_cast<std::ptrdiff_t>(at), '\n'));
      return file_.fault(line, "", "text that is not JSON", "GeoJSON", "mend the file there");
    } catch (const Json::out_of_range& error) {
      return file_.fault(0, "", std::string("a number out of range (") + error.what() + ")",
                         "coordinates that are numbers", "mend the file");
    }
    return file_.fault(0, "", "text that is not JSON", "GeoJSON", "mend the file");
  }

  [[nodiscard]] static std::string text(const Json& object, const char* key) {
    const auto it = object.find(key);
    return it != object.end() && it->is_string() ? it->get<std::string>() : "";
  }

  [[nodiscard]] Result<double> metres(const Json& root) const {
    std::string crs;
    if (root.contains("crs") && root["crs"].is_object() && root["crs"].contains("properties") &&
        root["crs"]["properties"].is_object())
      crs = text(root["crs"]["properties"], "name");
    const bool degrees =
        crs.find("CRS84") != std::string::npos || crs.ends_with("4326") || crs.ends_with("4258");
    if (degrees || file_.unit.empty())
      return file_.fault(
          0, "coordinates",
          crs.empty()
              ? "degrees of longitude and latitude, as RFC 7946 has it where nothing else is said"
              : "coordinates in " + in_quotes(crs),
          "lengths on a plane",
          degrees ? "project them to a metric grid"
                  : "project them to a metric grid and say so in the brief: file_unit = \"m\"");
    return settle_unit(file_, 0, "coordinates");
  }

  void fault(const std::string& where, const std::string& found, const std::string& expected,
             const std::string& change) {
    faults_.push_back(file_.fault(0, where, found, expected, change));
  }

  [[nodiscard]] static std::string role_of(const Json& item) {
    if (item.contains("properties") && item["properties"].is_object())
      for (const char* key : {"role", "layer", "name", "id"})
        if (const std::string role = role_name(text(item["properties"], key)); is_role(role))
          return role;
    return role_name(text(item, "id"));
  }

  void feature(const Json& item, const std::string& number) {
    if (!item.is_object()) return fault(number, "something that is no feature", "a Feature", "");
    const std::string role = role_of(item);
    if (!is_role(role)) return;
    const std::string where = number + ", " + printable(role);
    if (!item.contains("geometry") || !item["geometry"].is_object())
      return fault(where, "no geometry", "a Polygon, LineString or Point", "take the feature out");
    const Json& geometry = item["geometry"];
    const std::string type = text(geometry, "type");
    const Json coordinates = geometry.value("coordinates", Json());
    if (type == "Point") {
      Vec2 p = Vec2::Zero();
      if (point(coordinates, where, p)) drawing_.push_back({role, {p}, false, where, 0});
    } else if (type == "LineString") {
      line(coordinates, where, role, false);
    } else if (type == "Polygon" && coordinates.is_array() && !coordinates.empty()) {
      for (std::size_t k = 0; k < coordinates.size(); ++k)
        line(coordinates[k], where + (k > 0 ? ", ring " + std::to_string(k + 1) : ""),
             k > 0 ? "opening" : role, true);
    } else {
      fault(where, "a geometry of type " + in_quotes(type), "a Polygon, LineString or Point",
            "give each part a feature of its own");
    }
  }

  bool point(const Json& at, const std::string& where, Vec2& out) {
    const bool good = at.is_array() && at.size() >= 2 && at[0].is_number() && at[1].is_number();
    if (good) out = metres_ * Vec2(at[0].get<double>(), at[1].get<double>());
    if (!good || !out.allFinite()) {
      fault(where, "a position that is no pair of numbers", "[x, y]", "mend it");
      return false;
    }
    return true;
  }

  void line(const Json& positions, const std::string& where, const std::string& role, bool closed) {
    if (!positions.is_array() || positions.size() < 2)
      return fault(where, "too few positions", "a list of them", "mend it");
    std::vector<Vec2> points(positions.size());
    for (std::size_t i = 0; i < points.size(); ++i)
      if (!point(positions[i], where, points[i])) return;
    if (closed) {
      if (points.front() != points.back())
        return fault(where, "a ring whose last position is not its first",
                     "a closed ring, as RFC 7946 has it", "repeat the first position at the end");
      points.pop_back();
    }
    drawing_.push_back({role, std::move(points), closed, where, 0});
  }

  const DrawingFile& file_;
  double metres_ = 1;
  Drawing drawing_;
  Faults faults_;
};

}  // namespace

Result<Drawing> read_geojson(const DrawingFile& file) { return GeoJsonReader(file).read(); }

}  // namespace skewback
