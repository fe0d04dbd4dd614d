#include <fstream>
#include <iostream>
#include <iterator>

#include "cli/commands.hpp"
#include "cli/console.hpp"
#include "lodge/lodge.hpp"

namespace skewback::cli {
namespace {

// Ends of lines are what an editor puts there, not part of it.
Result<std::string> read_token(const std::filesystem::path& file) {
  std::ifstream stream(file, std::ios::binary);
  if (!stream) return Fault{file.string(), 0, 0, "", "no such file", "a file with a token", ""};
  std::string text{std::istreambuf_iterator<char>(stream), {}};
  while (!text.empty() && (text.back() == '\n' || text.back() == '\r')) text.pop_back();
  if (text.empty()) return Fault{file.string(), 0, 0, "", "nothing in it", "a token", ""};
  return text;
}

void say_where(const ServeCommandOptions& options, const std::string& address,
               const std::string& token) {
  if (options.listen.empty()) {
    std::cout << address << "\n";
    if (!options.daybook.empty()) std::cout << address << "site\n";
  } else {
    std::cout
        << address << "#token=" << token << "\n"
        << address << "site#token=" << token << "\n"
        << "  whoever has one of these can change and record; it goes over the wire unsealed: "
           "only in a network you trust\n";
    if (options.listen == "0.0.0.0" || options.listen == "::")
      std::cout << "  from elsewhere, with this machine's own address in place of "
                << options.listen << "\n";
  }
  std::cout << "Ctrl-C ends it." << std::endl;
}

}  // namespace

int serve_command(const ServeCommandOptions& options) {
  lodge::ServeOptions wanted;
  wanted.brief = options.brief;
  wanted.daybook = options.daybook;
  wanted.port = options.port;
  wanted.jobs = options.jobs;
  if (!options.listen.empty()) wanted.listen = options.listen;
  if (!options.token_file.empty()) {
    const Result<std::string> token = read_token(options.token_file);
    if (!token) {
      print_faults(token.faults(), false);
      return kBadInput;
    }
    wanted.token = *token;
  }
  wanted.remark = [](const std::string& says) { std::cerr << says << "\n"; };
  const auto faults = lodge::serve(wanted, interrupt_flag(), [&](const std::string& address) {
    say_where(options, address, wanted.token);
  });
  if (faults) {
    print_faults(*faults, false);
    return kBadInput;
  }
  return kDone;
}

}  // namespace skewback::cli
