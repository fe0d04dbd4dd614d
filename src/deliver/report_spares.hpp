#pragma once
// The programme's and the spares' part of the report, of summary.json, and their own tables.

#include <nlohmann/json.hpp>

#include "brief/brief.hpp"
#include "deliver/files.hpp"
#include "deliver/pages.hpp"
#include "erect/spares.hpp"

namespace skewback::deliver {

/// Dates, chart, critical path; blocks worth making twice, delay over their number, finish with and
/// without; assumptions and cautions.
/// How the mean of the draws lies against mean times.
[[nodiscard]] std::string against_means(double later_s, bool idle_days);
void add_programme(Pages& pages, const Brief& brief, const Assembly& assembly,
                   const Spares& spares);

/// For the object `erect`: "spares" (ids), "expected_delay_days", "duration_days" and more, merged
/// in with update().
[[nodiscard]] nlohmann::ordered_json spares_json(const Brief& brief, const Spares& spares);

/// An activity a row: its three times, dates if all take least, likely, most or mean time, float,
/// share of draws in which it was critical, with the chosen spares.
[[nodiscard]] std::string programme_csv(const Spares& spares);

/// The critical path by mean times, runs of a kind together: "print k1 to k9 (9), cure k9, ...".
[[nodiscard]] std::string critical_words(const Spares& spares);

/// "Worked on Monday, Tuesday. Not on 2027-03-26. Curing runs on."
[[nodiscard]] std::string calendar_words(const Calendar& calendar);

/// programme.csv, programme.svg, spares.svg, finish.svg under erect/.
[[nodiscard]] std::vector<OutputFile> programme_files(const Brief& brief, const Spares& spares);

}  // namespace skewback::deliver
