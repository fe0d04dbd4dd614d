#include "deliver/drawings.hpp"
#include "deliver/report.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {

void add_form(Pages& pages, const Dossier& dossier) {
  const Form& form = *dossier.form;
  pages.keep(150);
  pages.heading("Form");
  pages.paragraph(
      "The middle surface is a net in equilibrium with its load by compression alone; a weight put "
      "on it goes down to the support whose colour its place has. Lines of phi run square to that "
      "flow and count metres from the support; joints follow them.");
  const std::string cm = " mm";
  pages.table(
      {{"figure", 2}, {"asked", 1, true}, {"achieved", 1, true}},
      {{{"rise of the middle surface", fixed(form.rise_asked_m, 4) + " m",
         fixed(form.rise_m, 4) + " m"},
        {}},
       {{"largest tension in the net", "0 N", fixed(form.tension_max_n, 1) + " N"}, {}},
       {{"largest residual over the load", "1e-10", scientific(form.residual_rel)}, {}},
       {{"free edges from those drawn, root mean square", "", fixed(form.fit_rms_m * 1000, 1) + cm},
        {}},
       {{"largest move in plan from the drawing", "", fixed(form.plan_shift_max_m * 1000, 1) + cm},
        {}},
       {{"largest thrust of a support", "", fixed(form.thrust_max_n / 1000, 2) + " kN"}, {}},
       {{"net", "",
         std::to_string(form.vertices.size()) + " nodes, " + std::to_string(form.edges.size()) +
             " edges"},
        {}}});
  std::vector<Row> rows;
  for (std::size_t k = 0; k < form.arms.size() && k < dossier.brief.plan.supports.size(); ++k) {
    const ArmQuality& arm = form.arms[k];
    rows.push_back({{dossier.brief.plan.supports[k].id, fixed(arm.scale, 3),
                     fixed(arm.angle_median_deg, 2), fixed(arm.angle_p90_deg, 2)},
                    {}});
  }
  pages.table({{"arm", 2},
               {"phi per metre", 1, true},
               {"angle to the flow, median (°)", 1.4, true},
               {"nine in ten below (°)", 1.3, true}},
              rows);
  for (const Support& support : dossier.brief.plan.supports)
    if (support.bow_m > 0)
      pages.bullet("springing of " + support.id + ": the chord of an arc that bows " +
                   fixed(1e3 * support.bow_m, 0) + " mm outward; the footing reaches in to it");
  pages.figure(form_sheet(dossier, {pages.width_mm(), std::max(120.0, pages.room_mm() - 6)}), "");
  pages.figure(force_polygon_sheet(dossier, {pages.width_mm(), 100}), "");
}

void add_blocks(Pages& pages, const Dossier& dossier, const Outlines& outlines) {
  const CutReport& report = dossier.cut->report;
  const BlockTotals t = totals(dossier.cut->assembly);
  pages.heading("Blocks and joints");
  pages.paragraph(
      "Every block and joint is in blocks.csv and joints.csv; the solids are in "
      "blocks.glb (to look at) and blocks.3mf (to make).");
  pages.table(
      {{"figure", 2}, {"value", 1.6, true}},
      {{{"blocks", std::to_string(t.blocks)}, {}},
       {{"joints", std::to_string(t.joints)}, {}},
       {{"lightest and heaviest block",
         fixed(t.mass_min_kg, 1) + " and " + fixed(t.mass_max_kg, 1) + " kg (" + t.heaviest + ")"},
        {}},
       {{"concrete", fixed(t.volume_m3, 3) + " m³, " + fixed(t.mass_kg, 0) + " kg"}, {}},
       {{"every block closed", report.watertight ? "yes" : "no"},
        report.watertight ? std::nullopt : verdict_tint(Verdict::kFalls)},
       {{"blocks and pads against the whole, relative", scientific(report.volume_error_rel)}, {}},
       {{"joint normal to resultant under dead load, median and largest",
         dossier.dead_resultants.empty()
             ? std::string("not computed in this run")
             : fixed(dossier.joint_angle_median_deg, 2) + "° and " +
                   fixed(dossier.joint_angle_max_deg, 2) + "°" +
                   (dossier.joint_angle_max_at.empty() ? ""
                                                       : " between " + dossier.joint_angle_max_at) +
                   (dossier.joint_angle_light_deg > dossier.joint_angle_max_deg
                        ? "; " + fixed(dossier.joint_angle_light_deg, 2) +
                              "° where little is carried"
                        : "")},
        {}}});
  if (const auto& found = dossier.depth_found)
    pages.bullet("depth from the thrust: " + fixed(1e3 * found->crown_m, 0) + " mm at the crown, " +
                 fixed(1e3 * found->springing_m, 0) + " mm at the springings, ruled by " +
                 found->ruled_by +
                 (found->holds ? "" : "; not proved at these depths: " + found->fails));
  if (dossier.body && dossier.body->turned_deg > 0)
    pages.bullet("near its sharpest bends the depth is laid off up to " +
                 fixed(dossier.body->turned_deg, 0) +
                 "° aslant, where laid off square the shell would cross itself");
  for (const std::string& remark : report.remarks) pages.bullet(remark);
  pages.figure(mass_sheet(dossier, {pages.width_mm(), 48}), "");
  pages.figure(plan_sheet(dossier, outlines, {pages.width_mm(), 200}), "");
  pages.figure(elevation_sheet(dossier, outlines, {pages.width_mm(), 235}), "");
}

}  // namespace skewback::deliver
