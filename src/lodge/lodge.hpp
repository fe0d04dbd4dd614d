#pragma once
// The page on this machine (docs/lodge.md): shows what works/ finds, and takes changes, questions
// and the daybook's entries.

#include <atomic>
#include <filesystem>
#include <functional>
#include <string>

#include "base/result.hpp"

namespace skewback::lodge {

struct ServeOptions {
  std::filesystem::path brief;
  std::filesystem::path daybook;     // folder with daybook.sqlite; empty: none
  std::string listen = "127.0.0.1";  // other than this machine only with a token given
  int port = 0;                      // 0: any that is free
  std::string token;                 // empty: drawn at random, and the page on this machine gets it
  int jobs = 0;
  std::function<void(const std::string&)> remark = {};  // what the user should know of
};

/// Serves until `stop`. `ready` is told the address ("http://127.0.0.1:40123/") once it answers.
/// Faults: the brief's; an address that cannot be had; a listening address without a token.
[[nodiscard]] std::optional<Faults> serve(const ServeOptions& options,
                                          const std::atomic<bool>& stop,
                                          const std::function<void(const std::string&)>& ready);

}  // namespace skewback::lodge
