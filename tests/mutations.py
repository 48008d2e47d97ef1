"""What tests/mutate.py breaks, one line each, and the tests that must notice.

`before` stands exactly once in `file`. `ctest` is a pattern of CTest's names, `pytest` a list of arguments
for pytest in tests/end_to_end; either may be left out.
"""
from dataclasses import dataclass


@dataclass(frozen=True)
class Mutation:
    name: str
    file: str
    before: str
    after: str
    ctest: str = ""
    pytest: tuple = ()


UNIT = "^unit_placement$"
TUNING = "^unit_tuning$"

MUTATIONS = [
    Mutation("box-stiffness-from-half-the-air", "src/woofer/closed_box.cpp",
             "driver.vas / box.apparent_volume", "driver.vas / (2 * box.apparent_volume)", ctest="^(unit|published)_woofer$"),
    Mutation("deviation-keeps-the-offset", "src/placement/criteria.cpp",
             "square - mean * mean", "square", ctest=UNIT),
    Mutation("threads-unbounded", "src/app/thread_bound.cpp",
             "omp_get_max_threads() > most", "omp_get_max_threads() < 0", pytest=("test_commands.py", "-k", "threads")),

    # What is left out because it cannot matter, or is known from its neighbours.
    Mutation("rough-scores-taken-for-exact", "src/placement/every_set.cpp",
             "return least - rough_score_error(at.weights);", "return least + rough_score_error(at.weights);", ctest=UNIT),
    Mutation("modes-exchange-numbers-unseen", "solvers/decaying_terms.cpp",
             "return follow(&FloorSum::Eigenvalues::m", "return true || follow(&FloorSum::Eigenvalues::m", ctest="^unit_solvers$"),
    Mutation("walls-resonate-between-nodes", "solvers/decaying_terms.cpp",
             "if (axes_follow(sum, nodes, frequency, known)) return nodes;",
             "if (axes_follow(sum, nodes, frequency, known) || count > 0) return nodes;", ctest="^unit_solvers$"),

    # A wall that is tried in the live page.
    Mutation("surface-line-takes-any-room", "solvers/surface_line.cpp",
             "if (off > beside * beside * size) return std::nullopt;", "", ctest="^cross_solver_solvers$"),
    Mutation("wall-tried-is-not-heard", "src/live/room_fields.cpp",
             "surface.in(room_) = wall;\n        heard_as_is_ = false;", "surface.in(room_) = wall;", ctest="^unit_live$"),

    # What a seat hears, judged.
    Mutation("reach-ends-3-dB-down", "src/placement/criteria.cpp",
             "double least = -6;", "double least = -3;", ctest=UNIT),
    Mutation("reach-of-the-bare-curve", "src/placement/criteria.cpp",
             "out.reach_hz = reach(smoothed);", "out.reach_hz = reach(power);", ctest=UNIT),
    Mutation("reach-stops-at-the-band", "src/placement/criteria.cpp", "while (f > 0 &&", "while (f > first_ &&", ctest=UNIT),
    Mutation("half-space-summed-by-power", "src/placement/listening.cpp",
             "together[f] += std::abs(u);", "together[f] = std::hypot(together[f].real(), std::abs(u));", ctest=UNIT),
    Mutation("half-space-with-its-phases", "src/placement/listening.cpp",
             "together[f] += std::abs(u);", "together[f] += u;", ctest=UNIT),
    Mutation("loudest-without-gain", "src/placement/listening.cpp",
             "travel ? sources.velocity(f, q) : sources.free(f, q)",
             "(travel ? sources.velocity(f, q) : sources.free(f, q)) / result.subs[q].dial.gain()", ctest=UNIT),

    # Dials.
    Mutation("dial-early-for-late", "src/base/dial.hpp", "std::polar(gain(), -2 *", "std::polar(gain(), 2 *", ctest="^unit_(base|placement)$"),
    Mutation("dials-early-for-late", "src/base/dial.hpp", "std::polar(1.0, -2 *", "std::polar(1.0, 2 *", ctest="^unit_(base|placement)$"),
    Mutation("dials-without-polarity", "src/base/dial.hpp", "gain() * polarity", "gain()", ctest="^unit_(base|placement)$"),
    Mutation("dials-without-gain", "src/base/dial.hpp", "gain() * polarity", "polarity", ctest="^unit_(base|placement)$"),
    Mutation("level-maps-without-dials", "src/placement/plane_map.cpp",
             "sources.velocity(f, q);", "sources.velocity(f, q) / subs[q].dial.factor(frequency[f]);", ctest=UNIT),
    Mutation("level-maps-early-for-late", "src/placement/plane_map.cpp",
             "sources.velocity(f, q);",
             "sources.velocity(f, q) * std::conj(subs[q].dial.factor(frequency[f])) / subs[q].dial.factor(frequency[f]);", ctest=UNIT),
    Mutation("window-field-without-dials", "src/app/view_fields.cpp",
             "sources.velocity(0, q);", "sources.velocity(0, q) / subs[q].dial.factor(frequency);",
             pytest=("test_view.py", "-k", "field_hears")),
    Mutation("window-field-early-for-late", "src/app/view_fields.cpp",
             "sources.velocity(0, q);",
             "sources.velocity(0, q) * std::conj(subs[q].dial.factor(frequency)) / subs[q].dial.factor(frequency);",
             pytest=("test_view.py", "-k", "field_hears")),
    Mutation("window-field-without-gain", "src/app/view_fields.cpp",
             "sources.velocity(0, q);", "sources.velocity(0, q) / subs[q].dial.gain();",
             pytest=("test_view.py", "-k", "field_hears")),
    Mutation("window-field-without-polarity", "src/app/view_fields.cpp",
             "sources.velocity(0, q);", "sources.velocity(0, q) * double(subs[q].dial.polarity);",
             pytest=("test_view.py", "-k", "field_hears")),

    # Plans and sets.
    Mutation("boxes-up-to-Qtc-1.3", "src/placement/decision.cpp",
             "std::max(bearable_qtc,", "std::max(1.3,", ctest=UNIT),
    Mutation("boxes-up-to-Qtc-0.8", "src/placement/decision.cpp",
             "std::max(bearable_qtc,", "std::max(0.8,", ctest=UNIT),
    Mutation("maps-swapped", "src/placement/spot_ranking.cpp",
             "maps.scores.value[spot] = criteria[spot].score;",
             "maps.scores.value[spot] = criteria[spot].spread_db; maps.spread.value[spot] = criteria[spot].score;", ctest=UNIT),
    Mutation("mirror-keeps-the-higher-along-x", "src/placement/set_rules.cpp",
             "x[n] < spot)", "x[n] > spot)", ctest=UNIT),
    Mutation("mirror-drops-its-own-image-along-x", "src/placement/set_rules.cpp",
             "x[n] < spot)", "x[n] <= spot)", ctest=UNIT),
    Mutation("mirror-drops-its-own-image-along-y", "src/placement/set_rules.cpp",
             "!y.empty() && y[n] < spot)", "!y.empty() && y[n] <= spot)", ctest=UNIT),
    Mutation("mirror-drops-its-own-image-along-both", "src/placement/set_rules.cpp",
             "y[x[n]] < spot)", "y[x[n]] <= spot)", ctest=UNIT),

    # Draws of what is not known.
    Mutation("draws-leave-the-walls", "src/tuning/draws.cpp", "branch.resistance *= by;", "branch.resistance *= by / by;", ctest=TUNING),
    Mutation("draws-leave-the-subs", "src/tuning/draws.cpp", "const double dx = by.sub * uniform(random), dy = by.sub",
             "const double dx = 0 * uniform(random), dy = 0", ctest=TUNING),
    Mutation("draws-leave-the-driver", "src/tuning/draws.cpp", "*part = factor(*part, random);", "*part = factor(1, random);", ctest=TUNING),
    Mutation("draws-leave-the-contents", "src/tuning/draws.cpp", "draw.room.contents.area *= factor(by.wall, random);",
             "factor(by.wall, random);", ctest=TUNING),
    Mutation("judged-in-the-room-undrawn", "src/tuning/judged_draws.cpp",
             "return solve(draw.room,", "return solve(scenario.acoustics.room,", ctest=TUNING),
    Mutation("judged-with-the-driver-undrawn", "src/tuning/judged_draws.cpp",
             "complete_driver(draw.driver,", "complete_driver(scenario.design.driver,", ctest=TUNING),

    # Rooms and boxes.
    Mutation("of-two-modes-that-meet-one-is-lost", "solvers/reduced_modes.cpp",
             "if (all[n].lost || !add(all[n].free)) second.push_back(first[n]);", "if (!all[n].lost) add(all[n].free);",
             ctest="^cross_solver_solvers$"),
    Mutation("what-is-left-over-lacks-the-mass", "solvers/left_over.cpp",
             "take(part_[2], scales.mass);", "", ctest="^unit_solvers$"),
    Mutation("half-the-radiation-resistance", "solvers/room_plan.cpp", "128 / (9", "64 / (9", ctest="^published_solvers$"),
    Mutation("cut-out-as-large-as-the-cone", "src/woofer/enclosure.cpp", "1.15 * cone_diameter", "1.0 * cone_diameter", ctest="^unit_woofer$"),
    Mutation("cut-out-of-the-file-ignored", "src/woofer/enclosure.cpp", "if (rules.cut_out) return rules.cut_out;", "(void)rules;", ctest="^unit_woofer$"),
    Mutation("cut-out-in-a-low-front", "src/woofer/enclosure.cpp",
             "(lies(rules.facing) || box.height - panels.height >= *cut_out)", "true", ctest="^unit_woofer$"),
]
