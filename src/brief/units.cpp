#include "brief/units.hpp"

#include <udunits2.h>

#include <array>
#include <charconv>
#include <cmath>
#include <mutex>

#include "brief/brief.hpp"
#include "brief/text.hpp"

namespace skewback {
namespace {

struct Dimension {
  const char* unit;
  const char* name;
  const char* sample;
};
constexpr std::array<Dimension, 15> kDimensions{{
    {"m", "a length", "45 mm"},
    {"m2", "an area", "2 m2"},
    {"m3", "a volume", "0.1 m3"},
    {"kg", "a mass", "450 kg"},
    {"kg m-3", "a density", "2250 kg/m3"},
    {"Pa", "a pressure", "5 kPa"},
    {"N", "a force", "2 kN"},
    {"N m-1", "a force per length", "0.9 kN/m"},
    {"s", "a time", "30 s"},
    {"rad", "an angle or plain number", "5 degrees"},
    {"K", "a temperature", "20 K"},
    {"m s-1", "a speed", "24 m/s"},
    {"m3 s-1", "a flow", "5 L/min"},
    {"Pa s-1", "a pressure per time", "4 Pa/s"},
    {"rad s-1", "a turning speed", "30 degrees/s"},
}};
constexpr std::size_t kLongestQuantity = 80;

std::mutex& library_lock() {  // UDUNITS keeps its parser's state and its status in globals
  static std::mutex lock;
  return lock;
}

struct FreeUnit {
  void operator()(ut_unit* unit) const { ut_free(unit); }
};
using Unit = std::unique_ptr<ut_unit, FreeUnit>;

Unit parse(ut_system* system, const std::string& text) {
  return Unit(ut_parse(system, text.c_str(), UT_UTF8));
}

// 0: not a pure multiple. UDUNITS also "converts" reciprocals, offsets and logarithms.
double pure_factor(const Unit& from, const Unit& to) {
  if (!from || !to || !ut_are_convertible(from.get(), to.get())) return 0;
  cv_converter* converter = ut_get_converter(from.get(), to.get());
  if (converter == nullptr) return 0;
  const double zero = cv_convert_double(converter, 0), one = cv_convert_double(converter, 1),
               two = cv_convert_double(converter, 2);
  cv_free(converter);
  const bool pure = zero == 0 && std::isfinite(one) && one != 0 && two == 2 * one;
  return pure ? one : 0;
}

std::string definition(const Unit& unit) {
  std::array<char, 256> buffer{};
  const int n = ut_format(unit.get(), buffer.data(), buffer.size(), UT_ASCII | UT_DEFINITION);
  return n > 0 && n < static_cast<int>(buffer.size()) ? buffer.data() : "unknown";
}

std::string name_of(ut_system* system, const Unit& unit) {
  for (const Dimension& d : kDimensions)
    if (pure_factor(unit, parse(system, d.unit)) != 0) return d.name;
  return "a quantity in " + definition(unit);
}

Fault fault_in(const std::string& text, const std::string& si_unit) {
  Fault fault;
  fault.found = in_quotes(text);
  fault.expected =
      dimension_name(si_unit) + " with a unit, such as \"" + sample_quantity(si_unit) + "\"";
  return fault;
}

struct Split {
  double number = 0;
  std::string unit;
  std::string trouble;  // in words when it is no number and unit
};

Split split_quantity(const std::string& text) {
  Split split;
  const std::string t = trimmed(text);
  if (t.size() > kLongestQuantity) return {0, "", "write one number and one unit"};
  const char* first = t.data() + (!t.empty() && t[0] == '+' ? 1 : 0);
  const char* last = t.data() + t.size();
  const auto [end, error] = std::from_chars(first, last, split.number);
  if (error == std::errc::invalid_argument) return {0, "", "begin with a number"};
  if (error != std::errc() || !std::isfinite(split.number)) return {0, "", "write a finite number"};
  split.unit = trimmed(std::string(end, last));
  if (split.unit.empty())
    split.trouble = "add the unit";
  else if (split.unit[0] == ',')
    split.trouble = "write the decimal point as a point, and no commas";
  else if (std::string("0123456789.+-*/^").find(split.unit[0]) != std::string::npos)
    split.trouble = "write one number and one unit";
  return split;
}

}  // namespace

struct Units::System {
  ut_system* units = nullptr;
};

Units::Units() : system_(std::make_unique<System>()) {
  const std::lock_guard guard(library_lock());
  ut_set_error_message_handler(ut_ignore);
  system_->units = ut_read_xml(nullptr);
}

Units::~Units() {
  const std::lock_guard guard(library_lock());
  if (system_->units != nullptr) ut_free_system(system_->units);
}

bool Units::loaded() const { return system_->units != nullptr; }

Result<double> Units::read(const std::string& text, const std::string& si_unit) const {
  Fault fault = fault_in(text, si_unit);
  if (!loaded()) {
    fault.change = "install the UDUNITS-2 unit database; without it no quantity can be read";
    return fault;
  }
  const Split split = split_quantity(text);
  if (!split.trouble.empty()) {
    fault.change = split.trouble;
    return fault;
  }
  const std::lock_guard guard(library_lock());
  const Unit unit = parse(system_->units, split.unit);
  if (!unit) {
    fault.change =
        "\"" + split.unit + "\" is no unit that is known here (capitals matter: kN, MPa, mm)";
    return fault;
  }
  const double factor = pure_factor(unit, parse(system_->units, si_unit));
  if (factor == 0) {
    fault.found += ", " + name_of(system_->units, unit);
    fault.change = "give " + dimension_name(si_unit);
    return fault;
  }
  const double value = split.number * factor;
  if (!std::isfinite(value)) {
    fault.change = "write a finite number";
    return fault;
  }
  return value;
}

double Units::factor(const std::string& unit, const std::string& si_unit) const {
  if (!loaded()) return 0;
  const std::lock_guard guard(library_lock());
  return pure_factor(parse(system_->units, unit), parse(system_->units, si_unit));
}

std::string dimension_name(const std::string& si_unit) {
  for (const Dimension& d : kDimensions)
    if (si_unit == d.unit) return d.name;
  return "a quantity in \"" + si_unit + "\"";
}

std::string sample_quantity(const std::string& si_unit) {
  for (const Dimension& d : kDimensions)
    if (si_unit == d.unit) return d.sample;
  return "1 " + si_unit;
}

Result<double> read_quantity(const std::string& text, const std::string& si_unit) {
  return Units().read(text, si_unit);
}

}  // namespace skewback
