// How soon form, blocks and proof follow a change: 20 changes of rise and depth of a brief,
// medians. live BRIEF [--against]: also what find_form finds for each, and how far the form that
// follows is from it.

#include "works/live.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstring>
#include <ctime>
#include <vector>

#include "base/timing.hpp"
#include "works/live_height.hpp"

using namespace skewback;

namespace {

double processor_s() {
  timespec t{};
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
  return static_cast<double>(t.tv_sec) + 1e-9 * static_cast<double>(t.tv_nsec);
}

struct Series {
  const char* name;
  std::vector<double> wall_s = {}, cpu_s = {};
};

double median(std::vector<double> all) {
  std::sort(all.begin(), all.end());
  return all.empty() ? 0 : all[all.size() / 2];
}

class Clock {
 public:
  void note(Series& into) const {
    into.wall_s.push_back(watch_.seconds());
    into.cpu_s.push_back(processor_s() - cpu_);
  }

 private:
  Stopwatch watch_;
  double cpu_ = processor_s();
};

void against(const Dossier& live) {
  WorksOptions options;
  options.until = "body";
  const Result<Dossier> found = run_works(live.brief, options, {});
  if (!found) return;
  double off = 0;
  for (const Vec3& v : live.form->vertices)
    if (const auto z = height_at(*found->form, v.head<2>()))
      off = std::max(off, std::abs(*z - v.z()));
  std::printf(
      "  rise %.3f depth %.3f: thrust %+.2f %%, height %.1f mm off at most, fit %.1f / %.1f mm\n",
      live.brief.form.rise_m, live.brief.section.depth_crown_m,
      100 * (live.form->thrust_max_n / found->form->thrust_max_n - 1), 1e3 * off,
      1e3 * live.form->fit_rms_m, 1e3 * found->form->fit_rms_m);
}

int told_of(const Faults& faults, const Brief& brief) {
  std::printf("rise %.4f depth %.4f: %s\n", brief.form.rise_m, brief.section.depth_crown_m,
              describe(faults.front()).c_str());
  return 3;
}

}  // namespace

int main(int count, char** words) {
  const Result<Brief> read = read_brief(count > 1 ? words[1] : "examples/wren-leat/brief.toml");
  if (!read) return 2;
  Series drawn{"form drawn"}, shape{"form and body"}, blocks{"blocks"}, first{"first cases"},
      verdicts{"all verdicts"}, proof{"all, friction too"}, edit{"edit to first cases"},
      edit_all{"edit to all verdicts"}, all{"edit to the end"};
  std::optional<Dossier> before, sought;
  int searches = 0;
  for (int i = 0; i <= 20; ++i) {
    Brief brief = *read;
    brief.form.rise_m *= 1 + 0.01 * ((7 * i) % 11 - 5);
    brief.section.depth_crown_m *= 1 + 0.01 * ((5 * i) % 9 - 4);
    if (i == 0) brief = *read;
    const Clock whole, one;
    Result<LiveShape> shaped =
        live_shape(brief, sought ? &*sought : nullptr, {},
                   [&](const Dossier&, const std::string&) { one.note(drawn); });
    if (!shaped) return told_of(shaped.faults(), brief);
    if (i > 0) one.note(shape);
    if (shaped->sought) sought = shaped->dossier, ++searches;
    const Clock two;
    Result<Dossier> cut = live_blocks(std::move(shaped).value().dossier, {});
    if (!cut) return told_of(cut.faults(), brief);
    if (i > 0) two.note(blocks);
    const Clock three;
    Dossier proved = live_proof(std::move(cut).value(), before ? &*before : nullptr, {},
                                [&, n = 0](const Dossier&, const std::string&) mutable {
                                  if (i == 0) return;
                                  three.note(n == 0 ? first : verdicts);
                                  whole.note(n == 0 ? edit : edit_all);
                                  ++n;
                                });
    if (i > 0) three.note(proof), whole.note(all);
    if (i > 0 && count > 2 && std::strcmp(words[2], "--against") == 0) against(proved);
    before = std::move(proved);
  }
  std::printf("the form was sought anew %d times, the first included\n", searches);
  for (const Series* s :
       {&drawn, &shape, &blocks, &first, &verdicts, &proof, &edit, &edit_all, &all})
    std::printf("%-20s median of %zu: %.3f s, processor %.3f s\n", s->name, s->wall_s.size(),
                median(s->wall_s), median(s->cpu_s));
}
