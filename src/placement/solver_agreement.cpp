#include "placement/solver_agreement.hpp"

#include <algorithm>
#include <cmath>

#include "base/error.hpp"
#include "base/number.hpp"

namespace boxroom {
namespace {

constexpr double null_depth = 15;  // [dB] under the median of the seat
constexpr double highest = 150;    // [Hz]

double median(std::vector<double> values) {
    std::nth_element(values.begin(), values.begin() + values.size() / 2, values.end());
    return values[values.size() / 2];
}

}  // namespace

SolverAgreement difference(const Listening& first, const Listening& second, double up_to) {
    SolverAgreement result;
    result.first = first.criteria, result.second = second.criteria;
    const std::size_t seats = first.seats.size();
    double all_squares = 0;
    int all_count = 0;
    for (std::size_t s = 0; s < seats; ++s) {
        std::vector<double> level;
        for (std::size_t f = 0; f < first.frequency.size() && first.frequency[f] <= up_to; ++f)
            level.push_back(first.level_db(f, s));
        if (level.empty())
            throw Error("--solver both", "no frequency lies below the highest that is compared",
                        "let [analysis] begin lower");
        result.up_to = first.frequency[level.size() - 1];
        const double null = median(level) - null_depth;
        SolverAgreement::At at{first.seats[s].name};
        double squares = 0;
        int count = 0;
        for (std::size_t f = 0; f < level.size(); ++f) {
            if (level[f] < null) continue;
            const double apart = std::abs(second.level_db(f, s) - level[f]);
            const double turned =
                std::abs(std::remainder(second.phase_deg(f, s) - first.phase_deg(f, s), 360.0));
            if (apart >= at.largest_db) at.largest_db = apart, at.largest_hz = first.frequency[f];
            at.largest_deg = std::max(at.largest_deg, turned);
            squares += apart * apart;
            ++count;
        }
        at.rms_db = std::sqrt(squares / count);
        all_squares += squares;
        all_count += count;
        if (s == 0 || at.largest_db > result.all.largest_db) {
            const double phase = result.all.largest_deg;
            result.all = at;
            result.all.largest_deg = std::max(phase, at.largest_deg);
        }
        result.all.largest_deg = std::max(result.all.largest_deg, at.largest_deg);
        result.seats.push_back(at);
    }
    if (all_count > 0) result.all.rms_db = std::sqrt(all_squares / all_count);
    return result;
}

SolverAgreement compare_solvers(const Scenario& scenario, const Driver& driver,
                                const ClosedBox& box, const Listening& modal) {
    Scenario other = scenario;
    double spacing = 0;
    other.acoustics.solver.solver = RoomSolver::grid;
    other.acoustics.solver.on_grid = [&](const GridReport& report) {
        spacing = *std::max_element(report.spacing.begin(), report.spacing.end());
        if (scenario.acoustics.solver.on_grid) scenario.acoustics.solver.on_grid(report);
    };
    SolverAgreement result = difference(modal, listen(other, driver, box, modal.subs), highest);
    result.spacing = spacing;
    return result;
}

std::string agreement_words(const SolverAgreement& a) {
    if (!a.known()) return "";
    std::string words =
        "Two solvers that share nothing but the walls, one of which steps the sound "
        "through cells of " +
        number(1000 * a.spacing, 0) + " mm, differ at the seats by " +
        number(a.all.largest_db, a.all.largest_db < 1 ? 2 : 1) + " dB at most (" +
        number(a.all.largest_hz, 0) + " Hz, " + a.all.seat + ") and by " +
        number(a.all.rms_db, a.all.rms_db < 1 ? 2 : 1) + " dB RMS up to " + number(a.up_to, 0) +
        " Hz, deep nulls left out.";
    if (a.all.largest_db <= 1)
        words +=
            " So the room is solved right; what is left to doubt is the file: the walls above all.";
    else
        words +=
            " That is more than the usual half decibel: trust neither of them more closely than "
            "this. "
            "Openings and sharp resonances are the usual reasons.";
    return words;
}

}  // namespace boxroom
