#include "report/floor_plan.hpp"

#include <fmt/format.h>

#include "report/html_text.hpp"
#include "report/plan_parts.hpp"
#include "report/report_charts.hpp"

namespace boxroom {
namespace {

/// The box (as built) around its centre, turned as it faces; the thick edge is the side the driver
/// looks out of.
/// A number in it moves with it.
std::string box(const std::string& attributes, const Point& at, const Sides& outer, Facing facing,
                const PlanScale& scale, const std::string& number) {
    const Sides stands = turned(outer, facing);
    const double w = stands.width * scale.factor / 2, d = stands.depth * scale.factor / 2;
    const std::string edge =
        facing == Facing::front   ? fmt::format("M{:.2f} {:.2f}h{:.2f}", -w, -d, 2 * w)
        : facing == Facing::back  ? fmt::format("M{:.2f} {:.2f}h{:.2f}", -w, d, 2 * w)
        : facing == Facing::left  ? fmt::format("M{:.2f} {:.2f}v{:.2f}", -w, -d, 2 * d)
        : facing == Facing::right ? fmt::format("M{:.2f} {:.2f}v{:.2f}", w, -d, 2 * d)
                                  : "";
    return fmt::format(
        "<g {} transform=\"translate({:.2f} {:.2f})\"><rect class=\"reach\" x=\"-20\" "
        "y=\"-20\" width=\"40\" height=\"40\"/><rect class=\"box\" x=\"{:.2f}\" y=\"{:.2f}\" "
        "width=\"{:.2f}\" height=\"{:.2f}\"/><path class=\"cone\" d=\"{}\"/>{}</g>",
        attributes, scale.x(at.x), scale.y(at.y), -w, -d, 2 * w, 2 * d, edge,
        number.empty()
            ? ""
            : "<text class=\"number\" y=\"5\" text-anchor=\"middle\">" + number + "</text>");
}

/// The boxes of a set, numbered as in its table of settings.
std::string boxes(const SetRanking& ranking, const RankedSet& set, const EnclosureRules& rules,
                  const PlanScale& scale) {
    std::string out;
    for (std::size_t k = 0; k < set.footprints.size(); ++k) {
        const Sides outer = set.volumes.empty() ? ranking.outer : enclosure(set.volumes[k], rules);
        out += box("class=\"plan-sub\"", set.footprints[k], outer, set.facings[k], scale,
                   std::to_string(k + 1));
    }
    return out;
}

}  // namespace

std::string floor_plan_svg(const ReportInput& in) {
    const Scenario& s = in.scenario;
    const Room& room = s.acoustics.room;
    const BoxOption* build = box_option(in.plan, in.plan.build);
    if (!build || !(room.width > 0 && room.length > 0)) return "";
    const PlanScale scale(room);
    std::string out = plan_floor(room, scale, "", "group", "Floor plan");
    if (in.live.on())
        out += "<image id=\"plan-map\" preserveAspectRatio=\"none\" width=\"0\" height=\"0\"/>";
    std::string standing;
    for (std::size_t n = 0; n < in.decision.subs.size(); ++n) {
        const DecidedSub& sub = in.decision.subs[n];
        const std::string number = in.decision.subs.size() > 1 ? std::to_string(n + 1) : "";
        standing += box("id=\"plan-box" + (n ? "-" + number : "") + "\" class=\"plan-box\"",
                        sub.footprint, sub.outer, sub.facing, scale, number);
    }
    return out + plan_blocks(room, scale) + plan_keep_outs(s.wanted.keep_outs, s.seats, scale) +
           plan_walls(room, scale) + plan_openings(room, scale) +
           plan_ticks(room, scale, in.units, in.live.on()) + plan_seats(s.seats, room, scale) +
           standing + "</svg>";
}

std::string set_plan_svg(const ReportInput& in, const SetRanking& ranking, const RankedSet& set) {
    const Scenario& s = in.scenario;
    const Room& room = s.acoustics.room;
    if (!(room.width > 0 && room.length > 0)) return "";
    const PlanScale scale(room);
    return plan_floor(room, scale, " still", "group",
                      fmt::format("Floor plan with {} box{}", set.footprints.size(),
                                  set.footprints.size() > 1 ? "es" : "")) +
           plan_blocks(room, scale) + plan_keep_outs(s.wanted.keep_outs, s.seats, scale) +
           plan_walls(room, scale) + plan_openings(room, scale) +
           plan_ticks(room, scale, in.units, in.live.on()) + plan_seats(s.seats, room, scale) +
           boxes(ranking, set, in.scenario.design.enclosure, scale) + "</svg>";
}

}  // namespace boxroom
