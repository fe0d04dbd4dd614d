#include "works/net_patterns.hpp"

#include <algorithm>

#include "base/parallel.hpp"
#include "form/pattern_forces.hpp"
#include "works/states.hpp"

namespace skewback {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// The free block whose centroid is nearest in plan, per vertex.
std::vector<int> block_of_vertices(const Form& form, const Assembly& assembly) {
  std::vector<int> out;
  for (const Vec3& v : form.vertices) {
    int best = -1;
    double least = 1e300;
    for (std::size_t b = 0; b < assembly.blocks.size(); ++b) {
      if (assembly.blocks[b].fixed) continue;
      const double d = (assembly.blocks[b].mass.centroid - v).head<2>().squaredNorm();
      if (d < least) least = d, best = static_cast<int>(b);
    }
    out.push_back(best);
  }
  return out;
}

int nearest_vertex(const Form& form, const Vec3& p) {
  int best = 0;
  for (std::size_t v = 1; v < form.vertices.size(); ++v)
    if ((form.vertices[v] - p).head<2>().squaredNorm() <
        (form.vertices[at(best)] - p).head<2>().squaredNorm())
      best = static_cast<int>(v);
  return best;
}

}  // namespace

std::vector<double> live_at_vertices(const Form& form, const Assembly& assembly,
                                     const LoadCase& load) {
  std::vector<double> of_block(assembly.blocks.size(), 0);
  for (const LiveForce& live : load.live) of_block[at(live.block)] -= live.force.z();
  const std::vector<int> block_of = block_of_vertices(form, assembly);
  std::vector<double> share(assembly.blocks.size(), 0), out(form.vertices.size(), 0);
  for (std::size_t v = 0; v < out.size(); ++v) share[at(block_of[v])] += form.load_n[v];
  for (std::size_t v = 0; v < out.size(); ++v) {
    const std::size_t b = at(block_of[v]);
    if (share[b] > 0) out[v] = of_block[b] * form.load_n[v] / share[b];
  }
  for (std::size_t b = 0; b < of_block.size(); ++b)
    if (!(share[b] > 0) && of_block[b] != 0)
      out[at(nearest_vertex(form, assembly.blocks[b].mass.centroid))] += of_block[b];
  return out;
}

std::vector<NetPattern> net_under_patterns(const Dossier& dossier, double live_factor,
                                           const Progress& progress) {
  const Form& form = *dossier.form;
  const Assembly assembly = with_patterns_only(dossier);
  std::vector<const LoadCase*> cases;
  for (const LoadCase& load : assembly.cases)
    if (!load.live.empty()) cases.push_back(&load);
  std::vector<NetPattern> out(cases.size());
  for_each_index(cases.size(), [&](std::size_t i) {
    progress.checkpoint("net", static_cast<double>(i) / static_cast<double>(cases.size()));
    std::vector<double> load = live_at_vertices(form, assembly, *cases[i]);
    for (std::size_t v = 0; v < load.size(); ++v) load[v] = form.load_n[v] + live_factor * load[v];
    out[i].id = cases[i]->id;
    const Result<PatternForces> found = pattern_forces(form, dossier.body->depth_m, load);
    if (!found) {
      out[i].trouble = describe(found.faults().front());
      return;
    }
    out[i].share = found->share;
    out[i].worst = form.vertices[at(found->worst)];
    out[i].thrust_n = found->thrust_max_n;
  });
  return out;
}

}  // namespace skewback
