#include "answers/check_answer.hpp"

#include <fmt/format.h>

#include <numbers>

#include "answers/decision_output.hpp"
#include "answers/floor_plan_text.hpp"
#include "placement/doubts.hpp"
#include "placement/listening.hpp"

namespace boxroom {
/// What makes the room more than a rectangle, a line each, and which solver takes it.
namespace {

std::string plan_text(const Scenario& s, Units units) {
    const RoomPlan& plan = s.acoustics.room.plan;
    std::string text;
    const auto size = [&](const Point& from, const Point& to) {
        std::vector<std::string> sides;
        for (const double side : {to.x - from.x, to.y - from.y, to.z - from.z})
            if (side > 0) sides.push_back(format_length(side, units));
        return fmt::format("{}", fmt::join(sides, " x "));
    };
    if (!plan.outline.empty())
        text += fmt::format("plan    {} corners, {:.1f} m2 of floor\n", plan.outline.size(),
                            outline_area(plan.outline));
    for (const Block& b : plan.blocks)
        text += fmt::format("block   {}: {}\n", b.name, size(b.from, b.to));
    for (const Space& b : plan.spaces)
        text += fmt::format("space   {}: {}\n", b.name, size(b.from, b.to));
    for (const Opening& o : plan.openings)
        text += fmt::format("opening {}: {}, to {}{}\n", o.name, size(o.from, o.to),
                            o.space < 0 ? "the outside" : plan.spaces[o.space].name,
                            o.either ? "; open or shut" : "");
    if (!plan.empty())
        text += s.acoustics.solver.solver == RoomSolver::grid
                    ? "solved  on a grid of cells\n"
                    : "solved  by elements along the walls\n";
    return text;
}

}  // namespace

Answer check_answer(Inquiry& inquiry) {
    const Scenario& s = inquiry.scenario;
    const Units units = inquiry.wishes.units;
    std::string text = fmt::format(
        "{}\nroom    {} x {} x {}, {:.0f} m3\n", s.title,
        format_length(s.acoustics.room.width, units), format_length(s.acoustics.room.length, units),
        format_length(s.acoustics.room.height, units), s.acoustics.room.volume());
    for (const NamedWall& wall : s.acoustics.room.surfaces())
        text += fmt::format("{:<7} {} (absorption {:.2f} at 63 Hz)\n", wall.name, wall.description,
                            random_incidence_absorption(
                                wall.wall.admittance(2 * std::numbers::pi * 63, s.acoustics.air)));
    text += plan_text(s, units);
    text += fmt::format(
        "driver  fs {:.1f} Hz, Qts {:.2f}, Vas {}; levels are {}\n", inquiry.driver.fs,
        inquiry.driver.qts, format_volume(inquiry.driver.vas, units),
        inquiry.driver.absolute() ? "absolute, for 2.83 V" : "relative to the passband at 1 m");
    text += fmt::format("seats   {}, subs placed {}, keep-outs {}\n", s.seats.size(),
                        s.placed.subs.size(), s.wanted.keep_outs.size());
    if (s.placed.crossover || !s.placed.mains.empty())
        text += fmt::format(
            "mains   {}, {}\n", s.placed.mains.size(),
            s.placed.crossover
                ? fmt::format("crossover at {:.0f} Hz, {}, order {}", s.placed.crossover->frequency,
                              crossover_name(s.placed.crossover->kind), s.placed.crossover->order)
                : std::string("no crossover: all play full range"));
    text += fmt::format("target  {:.0f} to {:.0f} Hz, {:+.1f} dB/oct; {} frequencies\n",
                        s.judgement.target.band.low, s.judgement.target.band.high,
                        s.judgement.target.slope, s.acoustics.frequency.size());
    for (const std::string& doubt : doubts(s, inquiry.driver, units))
        inquiry.warnings.push_back(doubt);
    std::vector<std::string> said;  // by the commands that build or hear it
    text += standing_text(s, chosen_box(s, inquiry.driver, said), units);
    text += "\n" + floor_plan_text(s, units);
    return {text,
            {{"title", s.title},
             {"seats", s.seats.size()},
             {"subs", s.placed.subs.size()},
             {"blocks", s.acoustics.room.plan.blocks.size()},
             {"spaces", s.acoustics.room.plan.spaces.size()},
             {"openings", s.acoustics.room.plan.openings.size()},
             {"solver", solver_name(s)}}};
}

}  // namespace boxroom
