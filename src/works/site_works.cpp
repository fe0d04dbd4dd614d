#include "works/site_works.hpp"

#include "base/timing.hpp"
#include "erect/third_view.hpp"
#include "erect/uneven.hpp"

namespace skewback {
namespace {

std::string in_words(const Fault& fault) {
  std::string text = (fault.key.empty() ? "" : fault.key + ": ") + fault.found;
  if (!fault.expected.empty()) text += "; expected " + fault.expected;
  if (!fault.change.empty()) text += "; " + fault.change;
  return text;
}

}  // namespace

void draw_centring(Dossier& dossier, const Progress& progress) {
  const Assembly& assembly = dossier.cut->assembly;
  Result<Centring> made = make_centring(dossier.brief, assembly, progress);
  if (!made) {
    dossier.centring_reason = in_words(made.faults().front());
    return;
  }
  dossier.centring = std::move(made).value();
  dossier.self_held = self_held(dossier.brief, assembly);
}

void settle_drawn(Dossier& dossier, const Progress& progress) {
  Result<Centring> made =
      settle_centring(dossier.brief, dossier.cut->assembly, seat_loads(*dossier.programme),
                      progress, struck(dossier.brief, *dossier.programme));
  if (!made) {  // it was drawn before: only a fault of ours comes here
    dossier.centring_reason = in_words(made.faults().front());
    return;
  }
  Centring centring = std::move(made).value();
  if (const std::optional<Fault> fault = nest_parts(dossier.brief, centring, progress))
    dossier.centring_reason = in_words(*fault);
  dossier.centring = std::move(centring);
  if (dossier.programme->uneven.steps.empty()) return;
  Centring uneven = *dossier.centring;
  judge_centring(dossier.brief, dossier.cut->assembly, uneven_seat_loads(*dossier.programme),
                 uneven);
  if (const std::string words = over_in_words(uneven); !words.empty()) {
    dossier.programme->uneven.words.push_back(words);
    dossier.programme->uneven.centring_over = true;
  }
}

void plan_site(Dossier& dossier, const Progress& progress, const BreakCount& breaks) {
  const Brief& brief = dossier.brief;
  const Assembly& assembly = dossier.cut->assembly;
  const auto timed = [&](const char* stage, auto&& work) {
    progress.checkpoint(stage, 0);
    const Stopwatch watch;
    work();
    dossier.timings_s[stage] += watch.seconds();
    progress.checkpoint(stage, 1);
  };
  if (brief.centring.wanted && !dossier.centring && dossier.centring_reason.empty())
    timed("centring", [&] { draw_centring(dossier, progress); });
  timed("erect", [&] {
    dossier.programme =
        plan_erection(brief, assembly, dossier.centring ? &*dossier.centring : nullptr,
                      dossier.access ? &*dossier.access : nullptr, progress);
    prove_uneven(brief, assembly, dossier.centring ? &*dossier.centring : nullptr,
                 *dossier.programme, progress);
    Brief tied = brief;
    tied.ground.ties = dossier.ground->laid;
    add_tie_pulls(tied, assembly, *dossier.programme);
    let_stages_go(brief, assembly, *dossier.programme, progress);
    let_working_stages_go(brief, assembly, *dossier.programme, progress);
  });
  if (dossier.centring) timed("centring", [&] { settle_drawn(dossier, progress); });
  const PrintSet* print = dossier.print ? &*dossier.print : nullptr;
  timed("site", [&] {
    const auto lift = [&] {
      if (brief.lifting.wanted)
        dossier.lifts = plan_lifts(brief, assembly, *dossier.programme, print,
                                   dossier.centring ? &*dossier.centring : nullptr,
                                   dossier.transport ? &*dossier.transport : nullptr);
    };
    if (brief.transport.wanted)
      dossier.transport = plan_transport(brief, assembly, *dossier.programme, print);
    lift();
    if (brief.spares.wanted || brief.programme.wanted) {
      const PrintSet all_there;
      const bool printed_before = dossier.again && dossier.again->printed;
      dossier.spares =
          plan_spares(brief, assembly, *dossier.programme,
                      print == nullptr && printed_before ? &all_there : print,
                      dossier.lifts ? &*dossier.lifts : nullptr,
                      dossier.transport ? &*dossier.transport : nullptr, breaks, progress);
      if (dossier.spares->chosen > 0 && brief.lifting.lorry) lift();  // loads lie otherwise
    }
  });
}

}  // namespace skewback
