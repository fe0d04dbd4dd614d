#include <exception>

#include "base/parallel.hpp"
#include "base/timing.hpp"
#include "lodge/desk_inside.hpp"
#include "works/live.hpp"

namespace skewback::lodge {
namespace {

constexpr double kTellEvery_s = 0.1;
constexpr std::chrono::seconds kLookEvery{1};

std::string words(const Faults& faults) {
  std::string all;
  for (const Fault& fault : faults) all += (all.empty() ? "" : "; ") + describe(fault);
  return all;
}

}  // namespace

void Desk::Inside::work() {
  std::unique_lock lock(mutex);
  worker_id = std::this_thread::get_id();
  for (;;) {
    while (!wake.wait_for(lock, kLookEvery,
                          [&] { return closing || want_live || want_whole || tell; }))
      look_at_disk(lock);
    if (closing) return;
    const bool live = want_live, whole = want_whole && !want_live;
    if (live || whole) {
      (live ? want_live : want_whole) = false;
      stop = false;
      stopped = false;
      working = true;
      (live ? on_live : on_whole) = revision;
      stage = live ? "form" : "whole";
      fraction = 0;
    }
    const std::shared_ptr<const Brief> of = brief;
    const int at = revision;
    lock.unlock();
    tell_state();
    if (live) work_live(of, at);
    if (whole) work_whole(of, at);
    lock.lock();
    if (live || whole) {
      working = false;
      on_live = on_whole = 0;
      tell = true;
    }
  }
}

void Desk::Inside::work_live(const std::shared_ptr<const Brief>& of, int at) {
  Part next = Part::kShape;
  try {
    std::optional<JobLimit> limit;
    if (options.jobs > 0) limit.emplace(options.jobs);
    std::shared_ptr<const Dossier> last_proof;
    {
      const std::lock_guard lock(mutex);
      last_proof = part(Part::kProof).dossier;
    }
    const Progress on = progress();
    Stopwatch watch;
    const auto seconds = [&] {
      const double took = watch.seconds();
      watch = {};
      return took;
    };
    const auto drawn = [&](const Dossier& shape, const std::string& lacks) {
      publish(Part::kShape, at, shape, watch.seconds(), lacks);
    };
    Result<LiveShape> shaped = live_shape(*of, sought.get(), on, drawn);
    if (!shaped) return fail(next, Part::kProof, at, words(shaped.faults()));
    if (shaped->sought) sought = std::make_shared<const Dossier>(shaped->dossier);
    publish(next, at, shaped->dossier, seconds());
    next = Part::kBlocks;
    Result<Dossier> cut = live_blocks(std::move(shaped).value().dossier, on);
    if (!cut) return fail(next, Part::kProof, at, words(cut.faults()));
    publish(next, at, *cut, seconds());
    next = Part::kProof;
    const auto told = [&](const Dossier& first, const std::string& lacks) {
      publish(Part::kProof, at, first, watch.seconds(), lacks);
    };
    Dossier proved = live_proof(std::move(cut).value(), last_proof.get(), on, told);
    publish(next, at, std::move(proved), seconds());
  } catch (const Interrupted&) {
    fail(next, Part::kProof, at, "");
  } catch (const std::exception& error) {
    fail(next, Part::kProof, at, std::string("an internal fault: ") + error.what());
  }
}

void Desk::Inside::work_whole(const std::shared_ptr<const Brief>& of, int at) {
  try {
    WorksOptions how;
    how.jobs = options.jobs;
    const Stopwatch watch;
    Result<Dossier> whole = run_works(*of, how, progress());
    if (!whole) return fail(Part::kWhole, Part::kWhole, at, words(whole.faults()));
    publish(Part::kWhole, at, std::move(whole).value(), watch.seconds());
    share_whole(at);
  } catch (const Interrupted&) {
    fail(Part::kWhole, Part::kWhole, at, "");
  } catch (const std::exception& error) {
    fail(Part::kWhole, Part::kWhole, at, std::string("an internal fault: ") + error.what());
  }
}

void Desk::Inside::publish(Part which, int at, Dossier dossier, double took_s,
                           const std::string& draft) {
  auto kept_dossier = std::make_shared<const Dossier>(std::move(dossier));
  {
    const std::lock_guard lock(mutex);
    Known& known = part(which);
    known.of = at;
    known.dossier = std::move(kept_dossier);
    if (at == revision) known.failed.clear();
    known.draft = draft;
    known.took_s = took_s;
  }
  tell_state();
}

void Desk::Inside::share_whole(int at) {
  {
    const std::lock_guard lock(mutex);
    for (const Part which : {Part::kShape, Part::kBlocks, Part::kProof}) {
      Known& known = part(which);
      if (known.of > at) continue;
      known.of = at;
      known.dossier = part(Part::kWhole).dossier;
      known.draft.clear();
      if (at == revision) known.failed.clear();
    }
  }
  tell_state();
}

void Desk::Inside::fail(Part from, Part to, int at, const std::string& why) {
  {
    const std::lock_guard lock(mutex);
    if (at != revision && to != Part::kWhole) return;  // the newer brief has its own turn
    std::string says = why;
    if (why.empty())
      says = at != revision ? "the brief was changed meanwhile" : stopped ? "stopped" : "";
    for (const Part which : kParts) {
      if (which < from || which > to) continue;
      part(which).failed = says;
      part(which).let_go = why.empty();
    }
  }
  tell_state();
}

void Desk::Inside::tell_state() {
  Listener to;
  nlohmann::ordered_json json;
  {
    const std::lock_guard lock(mutex);
    tell = false;
    last_told = Clock::now();
    to = listener;
    if (to) json = state();
  }
  if (to) to("state", json);
}

void Desk::Inside::went_on(const std::string& now, double share) {
  Listener to;
  bool state_too = false;
  {
    std::unique_lock lock(mutex);
    const bool other = stage != now;
    stage = now;
    fraction = share;
    // only the working thread speaks; others that compute for it leave word
    if (std::this_thread::get_id() != worker_id) return;
    if (Clock::now() - last_look >= kLookEvery) look_at_disk(lock);
    state_too = tell;
    const double since = std::chrono::duration<double>(Clock::now() - last_told).count();
    if (!other && !state_too && since < kTellEvery_s) return;
    last_told = Clock::now();
    to = listener;
  }
  if (state_too) tell_state();
  if (to) to("progress", {{"stage", now}, {"fraction", share}});
}

Progress Desk::Inside::progress() {
  return {[this](const std::string& now, double share) { went_on(now, share); }, &stop};
}

}  // namespace skewback::lodge
