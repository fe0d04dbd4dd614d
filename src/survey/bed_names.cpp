#include "survey/bed_names.hpp"

#include "survey/suspect.hpp"

namespace skewback {
namespace {

constexpr std::size_t kMostExchanges = 3;  // said

using Numbering = std::array<int, 5>;  // per place as named, the place that was measured
constexpr Numbering kAsNumbered = {0, 1, 2, 3, 4};
constexpr std::array<Numbering, 7> kNumberings = {{{1, 0, 3, 2, 4},
                                                   {3, 2, 1, 0, 4},
                                                   {2, 3, 0, 1, 4},
                                                   {1, 2, 3, 0, 4},
                                                   {3, 0, 1, 2, 4},
                                                   {0, 3, 2, 1, 4},
                                                   {2, 1, 0, 3, 4}}};

/// Per bed as named, the bed that was measured and how its corners were counted.
struct Exchange {
  std::vector<int> bed;
  std::vector<Numbering> corners;
  std::string words;
};

Exchange beds_as_named(std::size_t beds) {
  Exchange out;
  for (std::size_t b = 0; b < beds; ++b) out.bed.push_back(static_cast<int>(b));
  out.corners.assign(beds, kAsNumbered);
  return out;
}

std::string numbering_words(const Numbering& corners) {
  std::string out;
  for (int k = 0; k < 4; ++k)
    out += (k == 0 ? "" : k == 3 ? " and " : ", ") + std::to_string(corners[k] + 1);
  return "what is named 1, 2, 3 and 4 lies at " + out;
}

std::vector<Exchange> beds_exchanged(const NamedBeds& named) {
  std::vector<Exchange> out;
  for (std::size_t a = 0; a < named.beds.size(); ++a) {
    for (std::size_t b = a + 1; b < named.beds.size(); ++b) {
      out.push_back(beds_as_named(named.beds.size()));
      std::swap(out.back().bed[a], out.back().bed[b]);
      out.back().words =
          "the names of the beds " + named.beds[a] + " and " + named.beds[b] + " look exchanged";
    }
  }
  return out;
}

std::vector<Exchange> counted_otherwise(const NamedBeds& named) {
  std::vector<Exchange> out;
  const std::size_t n = named.beds.size();
  for (const Numbering& corners : kNumberings) {
    for (std::size_t b = 0; b < n; ++b) {
      out.push_back(beds_as_named(n));
      out.back().corners[b] = corners;
      out.back().words = "on the bed " + named.beds[b] + " " + numbering_words(corners);
    }
    out.push_back(beds_as_named(n));
    out.back().corners.assign(n, corners);
    out.back().words = "on every bed " + numbering_words(corners);
  }
  return out;
}

bool brings_within(const NamedBeds& named, const PointPairs& pairs, const Exchange& exchange,
                   double gate) {
  PointPairs other = pairs;
  for (std::size_t i = 0; i < other.size(); ++i) {
    const auto bed = static_cast<std::size_t>(named.measured[i].first);
    const auto place = static_cast<std::size_t>(named.measured[i].second);
    other.designed[i] = named.drawn[static_cast<std::size_t>(exchange.bed[bed])]
                                   [static_cast<std::size_t>(exchange.corners[bed][place])];
  }
  const WeightedFit fit = weighted_fit(other, std::vector<char>(other.size(), 1));
  return fit.determined && !too_far(fit, gate);
}

std::string those_that_do(const NamedBeds& named, const PointPairs& pairs,
                          const std::vector<Exchange>& exchanges, double gate) {
  std::string out;
  std::size_t said = 0;
  for (const Exchange& exchange : exchanges) {
    if (said == kMostExchanges || !brings_within(named, pairs, exchange, gate)) continue;
    out += (said++ == 0 ? "" : "; or ") + exchange.words;
  }
  return out;
}

}  // namespace

std::string names_exchanged(const NamedBeds& named, const PointPairs& pairs, double gate) {
  const WeightedFit as_named = weighted_fit(pairs, std::vector<char>(pairs.size(), 1));
  if (!as_named.determined || !too_far(as_named, gate)) return "";
  const std::vector<Exchange> beds = beds_exchanged(named), counts = counted_otherwise(named);
  std::vector<Exchange> simple = beds;
  simple.insert(simple.end(), counts.begin(), counts.end());
  if (std::string words = those_that_do(named, pairs, simple, gate); !words.empty()) return words;
  std::vector<Exchange> both;
  for (const Exchange& bed : beds) {
    for (const Exchange& count : counts) {
      both.push_back(bed);
      for (std::size_t b = 0; b < named.beds.size(); ++b)
        both.back().corners[b] = count.corners[static_cast<std::size_t>(bed.bed[b])];
      both.back().words += ", and " + count.words;
    }
  }
  return those_that_do(named, pairs, both, gate);
}

}  // namespace skewback
