#pragma once
// The bridge as one HTML file, to be looked at where nothing is installed.

#include <array>

#include "lodge/shelf.hpp"

namespace skewback::lodge {

/// Of which revision the bridge written out is, and what is known of each part beside it.
struct ExportOf {
  struct OnePart {
    int of = 0;                 // revision that is known of it; 0: none
    std::string failed, draft;  // as Known
  };
  int of = 1, newest = 1;
  std::array<OnePart, 4> parts = {};  // by Part
};

/// What a reader must be told of it: that it is a draft and what it lacks, that the brief has gone
/// on, what did not come out, what is left out since it is of an older revision. Empty: nothing.
[[nodiscard]] std::string draft_words(const ExportOf& of);

/// `page`: the built page for viewing, with the mark `<!--SHEAVES-->` where the sheaves go. Text
/// that would end a script is not in it. Of proofs, worst first, and of layers so many bytes each;
/// what is left out is named in the part "left-out". State and views say which revision they are of
/// and whether they are fresh; draft_words, if any, are the first of the findings.
[[nodiscard]] std::string export_html(const Dossier& dossier, const std::string& page,
                                      const ExportOf& of = {},
                                      std::size_t most_bytes = std::size_t{24} << 20);

/// The newest there is, as far as it went; none yet: nothing.
[[nodiscard]] std::optional<Exported> export_newest(const Source& source, const std::string& page);

}  // namespace skewback::lodge
