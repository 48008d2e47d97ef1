#include "solvers/learnt_basis.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "base/parallel.hpp"
#include "solvers/mesh_options.hpp"
#include "solvers/point_value.hpp"
#include "solvers/reduced_modes.hpp"
#include "solvers/training_places.hpp"

namespace boxroom {

using Eigen::MatrixXcd;
using Eigen::MatrixXd;

namespace {

constexpr double lowest = 15;  ///< [Hz] of the full solutions

}  // namespace

LearntBasis::LearntBasis(const Room& r, const Air& a, double top)
    : room(r),
      air(a),
      highest(std::max(top, 150.0)),
      solver(std::make_shared<const ElementSolver>(r, a, mesh_for(top))),
      basis(*solver),
      left_over_(solver->matrices(), basis.weight()) {
    report.unknowns = solver->unknowns();
}

bool LearntBasis::learn(std::span<const Point> places, const Progress& progress) {
    std::vector<Point> fresh;
    for (const Point& p : places)
        if (std::find(known.begin(), known.end(), p) == known.end() &&
            std::find(fresh.begin(), fresh.end(), p) == fresh.end())
            fresh.push_back(p);
    if (fresh.empty()) return false;
    const bool first = known.empty();
    known.insert(known.end(), fresh.begin(), fresh.end());
    if (first)
        for (const Point& p : corner_places(room)) fresh.push_back(p);
    add_until_true(fresh, first, progress);
    report.places = static_cast<int>(known.size());
    return true;
}

void LearntBasis::learn_as(std::span<const Room> others, std::span<const Point> places) {
    constexpr double share[][3] = {{0.1, 0.42, 0.75}, {0.27, 0.58, 0.92}};
    std::vector<RoomAt> asked;
    for (std::size_t n = 0; n < others.size(); ++n)
        for (const double x : share[n % std::size(share)])
            asked.push_back(
                {&others[n], frequency_at(lowest, highest, std::cos(std::numbers::pi * x))});
    basis.add(full_solutions(*solver, basis.weight(), asked, places, 0));
    project();
}

void LearntBasis::be(const Room& other) {
    const std::vector<Wall> walls = surface_walls(other, air);
    if (walls.size() != model.wall.size())
        throw std::length_error("a room of another shape: other surfaces");
    room = other;
    own = with_equal_walls_as_one(model, walls);
}

void LearntBasis::project() {
    model = basis.project(solver->matrices(), model);
    own = with_equal_walls_as_one(model, surface_walls(room, air));
    report.functions = static_cast<int>(model.size());
}

/// Full solutions at Chebyshev's points, those of a room of which nothing is known with their
/// derivatives; then two by two where most is left over, until the levels are known so well that
/// those that came last had little to add.
void LearntBasis::add_until_true(std::span<const Point> places, bool first,
                                 const Progress& progress) {
    constexpr double enough = 0.5;  // [dB]: what is left is a tenth of it
    // Parts of 4e-4 are left out of each solution; 15 dB down in a null this is as much [dB].
    constexpr double left_out = 0.06;
    constexpr int most = 24;
    const int points = first ? 6 : 4;
    int done = 0;
    const auto solved = [&](std::span<const double> frequency, int derivatives) {
        const int usual = first ? 12 : points;  // solutions, in rooms that people live in
        if (progress) progress(done / static_cast<double>(std::max(usual, done + 2)));
        std::vector<RoomAt> asked;
        for (const double f : frequency) asked.push_back({&room, f});
        done += static_cast<int>(frequency.size());
        return full_solutions(*solver, basis.weight(), asked, places, derivatives);
    };
    const auto add = [&](std::span<const FullSolution> solution) {
        basis.add(solution);
        project();
    };
    const auto compare_and_add = [&](std::span<const FullSolution> solution) {
        std::vector<double> change(solution.size());
        for_each_in_parallel(change.size(), 1,
                             [&](std::size_t n) { change[n] = off(solution[n], places); });
        report.change_db = std::max(left_out, std::ranges::max(change));
        add(solution);
    };
    std::vector<double> chebyshev;
    for (int n = 0; n < points; ++n) {
        // From end to end; where the ends are known already, between them.
        const double share = first ? n / (points - 1.0) : (n + 0.5) / points;
        chebyshev.push_back(frequency_at(lowest, highest, std::cos(share * std::numbers::pi)));
    }
    const auto add_least_known = [&] { compare_and_add(solved(least_known(places), 2)); };
    if (first) {
        add(solved(chebyshev, 2));
        add_least_known();
    } else {
        // What sources elsewhere do is for the most part known: their own solutions alone.
        std::swap(chebyshev[1], chebyshev[2]);
        const auto solution = solved(chebyshev, 0);
        add(std::span(solution).first(points / 2));
        compare_and_add(std::span(solution).last(points / 2));
    }
    while (report.change_db > enough && done < most) add_least_known();
}

/// Frequencies that leave nothing out: even steps, and the modes that the room would have with
/// rigid walls. Those that sound sharply have heavy ones.
std::vector<double> LearntBasis::telling_frequencies() const {
    constexpr double step = 5;  // [Hz]: what is not sharp is wider
    std::vector<double> all;
    for (double f = lowest; f < highest; f += step) all.push_back(f);
    for (const double k2 : rigid_modes(model).value) {
        const double f = air.speed_of_sound * std::sqrt(std::max(0.0, k2)) / (2 * std::numbers::pi);
        if (f > lowest && f < highest) all.push_back(f);
    }
    all.push_back(highest);
    std::ranges::sort(all);
    constexpr double one = 1.003;  // what lies closer together tells the same
    const auto same = [](double f, double next) { return next < one * f; };
    all.erase(std::unique(all.begin(), all.end(), same), all.end());
    return all;
}

/// Two frequencies at which most is left over of sources at these places, all at once and each of
/// another strength.
std::vector<double> LearntBasis::least_known(std::span<const Point> places) {
    const std::vector<double> frequency = telling_frequencies();
    Eigen::VectorXd strength(places.size());
    for (Eigen::Index n = 0; n < strength.size(); ++n)  // no two alike, none small
        strength(n) = (n % 2 == 0 ? 1 : -1) * (1 + 0.37 * static_cast<double>(n % 5));
    left_over_.follow(solver->matrices(), basis.functions());
    const Eigen::VectorXd sums = left_over_.sums(solver->point_values(places) * strength);
    const MatrixXd load = seen(places) * strength;
    std::vector<double> left(frequency.size());
    const std::vector<MatrixXcd> field = fields(frequency, load);
    for_each_in_parallel(left.size(), 4, [&](std::size_t n) {
        left[n] = left_over_.share(operator_scales(room, air, frequency[n]), sums, field[n].col(0));
    });
    return worst_two(frequency, left);
}

/// How far the levels over the floor are off at a frequency that the basis does not know.
double LearntBasis::off(const FullSolution& truth, std::span<const Point> places) const {
    const std::vector<Point> floor = floor_places(room, places);
    const MatrixXcd a = solver->point_values(floor).transpose() * truth.field;
    const MatrixXcd b = seen(floor).transpose() * fields(truth.frequency, seen(places));
    return largest_change({a.data(), a.data() + a.size()}, {b.data(), b.data() + b.size()});
}

std::vector<MatrixXcd> LearntBasis::fields(std::span<const double> frequency,
                                           const MatrixXd& load) const {
    constexpr std::size_t together = 4;  // what the operator is made of is read once for these
    std::vector<MatrixXcd> all(frequency.size());
    for_each_in_parallel((all.size() + together - 1) / together, 1, [&](std::size_t block) {
        const std::size_t first = block * together;
        std::vector<OperatorScales> scales;
        for (const double f : frequency.subspan(first, std::min(together, all.size() - first)))
            scales.push_back(operator_scales(room, air, f));
        std::vector<MatrixXcd> some = own.solve(scales, load);
        std::move(some.begin(), some.end(), all.begin() + static_cast<long>(first));
    });
    return all;
}

MatrixXd LearntBasis::seen(std::span<const Point> places) const {
    MatrixXd value(basis.size(), static_cast<Eigen::Index>(places.size()));
    constexpr std::size_t together = 64;
    for_each_in_parallel((places.size() + together - 1) / together, 1, [&](std::size_t block) {
        const std::size_t end = std::min(places.size(), (block + 1) * together);
        std::vector<PointValue> at;
        for (std::size_t n = block * together; n < end; ++n)
            at.push_back(point_value(solver->matrices().mesh(), places[n]));
        // Neighbours are often in the same element.
        for (std::size_t first = 0, last = 0; first < at.size(); first = last) {
            while (last < at.size() && at[last].unknown == at[first].unknown) ++last;
            const auto count = static_cast<Eigen::Index>(at[first].unknown.size());
            const MatrixXd here = basis.functions().at(at[first].unknown);
            MatrixXd share(count, static_cast<Eigen::Index>(last - first));
            for (std::size_t n = first; n < last; ++n)
                for (Eigen::Index i = 0; i < count; ++i) share(i, n - first) = at[n].share[i];
            value.middleCols(static_cast<Eigen::Index>(block * together + first), share.cols())
                .noalias() = here * share;
        }
    });
    return value;
}

}  // namespace boxroom
