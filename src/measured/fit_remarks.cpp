#include "measured/fit_remarks.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>
#include <string>
#include <utility>

#include "base/number.hpp"

namespace boxroom {
namespace {

constexpr double little_to_correct = 0.7;  ///< [dB]

/// How far off a seat's recordings a flat line is: a model that does no better explains nothing.
double flat_misfit(const FitQuestion& q, const RoomMisfit& misfit, const std::string& name) {
    std::vector<std::vector<double>> lines;
    for (const HeardCurve& curve : q.heard) {
        const auto& level = curve.level_db;
        const double mean = std::accumulate(level.begin(), level.end(), 0.0) /
                            static_cast<double>(std::max<std::size_t>(1, level.size()));
        lines.emplace_back(level.size(), mean);
    }
    return misfit.seat_misfit(name, lines);
}

/// Subs that sound the other way round against the first: by most of the recordings that tell.
void remark_on_polarity(const FitQuestion& q, RoomFit& fit) {
    std::optional<std::pair<std::string, bool>> first;
    for (const PlacedSub& sub : q.scenario.placed.subs) {
        int upside_down = 0, told = 0;
        for (std::size_t r = 0; r < q.heard.size(); ++r) {
            if (q.heard[r].recording.sub != sub.name || !fit.recordings[r].timing) continue;
            ++told, upside_down += fit.recordings[r].timing->inverted ? 1 : 0;
        }
        if (told == 0 || 2 * upside_down == told) continue;
        const bool inverted = 2 * upside_down > told;
        if (!first)
            first = {sub.name, inverted};
        else if (inverted != first->second)
            fit.remarks.push_back(sub.name + " sounds the other way round from " + first->first +
                                  ", against what the file says: check its wires and its "
                                  "polarity switch");
    }
}

}  // namespace

double mean_of(const std::vector<SeatMisfit>& all, double SeatMisfit::*member) {
    double sum = 0;
    for (const SeatMisfit& one : all) sum += one.*member;
    return all.empty() ? 0 : sum / static_cast<double>(all.size());
}

void add_remarks(const FitQuestion& q, const RoomMisfit& misfit, const Eigen::VectorXd& x,
                 RoomFit& fit) {
    const double after = mean_of(fit.seats, &SeatMisfit::after_db);
    const double before = mean_of(fit.seats, &SeatMisfit::before_db);
    if (after > 4.5 || (after > 3.5 && x.cwiseAbs().maxCoeff() > 3))
        fit.remarks.push_back(
            "even fitted, the model is " + number(after, 1) +
            " dB off: these may be recordings of another room, or of other places");
    else if (after > 2.2)
        fit.remarks.push_back("what is left, " + number(after, 1) + " dB, looks like " +
                              (fit.furniture ? "more " : "") +
                              "large furniture or an opening that the file lacks");
    if (!fit.left_out.empty() && mean_of(fit.left_out, &SeatMisfit::after_db) >
                                     mean_of(fit.left_out, &SeatMisfit::before_db))
        fit.remarks.push_back(
            "seats that were left out are predicted no better than before: do not rely on this "
            "fit");
    std::vector<double> all;
    for (const SeatMisfit& seat : fit.seats) all.push_back(seat.after_db);
    std::nth_element(all.begin(), all.begin() + static_cast<long>(all.size() / 2), all.end());
    const double middle = all[all.size() / 2];
    for (const SeatMisfit& seat : fit.seats)
        if (seat.after_db >= flat_misfit(q, misfit, seat.name))
            fit.remarks.push_back("the model explains nothing of the recordings of " + seat.name +
                                  ": they may be of another room; check their place, sub and file");
        else if (all.size() >= 3 && seat.after_db > 2 * middle && seat.after_db > 3)
            fit.remarks.push_back("the recordings of " + seat.name +
                                  " fit the others badly: check their place, sub and file");
    if (before < little_to_correct)
        fit.remarks.push_back("the file's own room was within " + number(before, 1) +
                              " dB already: there is little to correct");
    remark_on_polarity(q, fit);
}

}  // namespace boxroom
