#include "solvers/reduced_room.hpp"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/error.hpp"
#include "base/parallel.hpp"
#include "solvers/element_solver.hpp"
#include "solvers/reduced_basis.hpp"

namespace boxroom {
namespace {

using Eigen::MatrixXcd;
using Eigen::MatrixXd;

constexpr double highest_of_all = 320;  ///< [Hz]: above, elements become too many
constexpr double nearest = 0.3;         ///< [m]

MeshOptions mesh_for(double highest_frequency) {
    if (highest_frequency > highest_of_all)
        throw Error("room solver", "the band reaches above 320 Hz, too high for elements",
                    "lower [analysis] band, or use --solver grid");
    MeshOptions options;
    options.highest_frequency = std::max(highest_frequency, 150.0);
    return options;
}

double distance(const Point& a, const Point& b) {
    return std::hypot(a.x - b.x, a.y - b.y, a.z - b.z);
}

/// Places over the floor, so that the basis knows every resonance.
std::vector<Point> over_the_floor(const Room& room) {
    std::vector<Point> places;
    for (const double x : {0.08, 0.92})
        for (const double y : {0.08, 0.92}) {
            const Point p{x * room.width, y * room.length, 0.1 * room.height};
            if (room.contains(p)) places.push_back(p);
        }
    return places;
}

/// The largest change of level, 20 lg |a/b|, where a is not 15 dB under its median.
double largest_change(const std::vector<std::complex<double>>& a,
                      const std::vector<std::complex<double>>& b) {
    std::vector<double> size;
    for (const auto& z : a) size.push_back(std::abs(z));
    if (size.empty()) return 0;
    const auto middle = size.begin() + static_cast<long>(size.size() / 2);
    std::nth_element(size.begin(), middle, size.end());
    const double null = *middle * std::pow(10.0, -0.75);
    double worst = 0;
    for (std::size_t n = 0; n < a.size(); ++n)
        if (std::abs(a[n]) > null)
            worst = std::max(worst, std::abs(20 * std::log10(std::abs(a[n] / b[n]))));
    return worst;
}

}  // namespace

struct ReducedRoom::Parts {
    Room room;
    Air air;
    ElementSolver solver;
    Training training;
    std::unique_ptr<ReducedBasis> basis;
    ReducedModel model;
    std::vector<Point> known;  ///< places that the basis has learnt
    ReducedReport report;

    Parts(const Room& r, const Air& a, double highest)
        : room(r), air(a), solver(r, a, mesh_for(highest)) {
        training.rooms = {r};
        training.highest = std::max(highest, 150.0);
        report.unknowns = solver.unknowns();
    }
    void learn(std::span<const Point> places);
    void judge(std::span<const Point> places);
    /// What the pressure at each place is of the functions: one column a place.
    MatrixXd seen(std::span<const Point> places) const;
};

void ReducedRoom::Parts::learn(std::span<const Point> places) {
    std::vector<Point> fresh;
    for (const Point& p : places)
        if (std::find(known.begin(), known.end(), p) == known.end() &&
            std::find(fresh.begin(), fresh.end(), p) == fresh.end())
            fresh.push_back(p);
    if (fresh.empty()) return;
    known.insert(known.end(), fresh.begin(), fresh.end());
    if (basis) {
        basis->add_places(solver, fresh);
    } else {
        training.places = over_the_floor(room);
        training.places.insert(training.places.end(), fresh.begin(), fresh.end());
        basis = std::make_unique<ReducedBasis>(solver, training);
    }
    model = basis->project(solver.matrices());
    report.functions = static_cast<int>(model.size());
    judge(fresh);
}

/// By how much the last full solution moved the levels between places and the corners.
void ReducedRoom::Parts::judge(std::span<const Point> places) {
    const Eigen::Index fewer = basis->before_last();
    const ReducedModel less = model.first(fewer);
    const MatrixXd from = seen(places), to = seen(over_the_floor(room));
    constexpr int count = 24;
    std::vector<std::vector<std::complex<double>>> with(count), without(count);
    for_each_in_parallel(count, 1, [&](std::size_t n) {
        const double f = training.lowest * std::pow(training.highest / training.lowest,
                                                    (static_cast<double>(n) + 0.5) / count);
        const OperatorScales scales = operator_scales(room, air, f);
        const MatrixXcd a = to.transpose() * model.solve(scales, from);
        const MatrixXcd b = to.topRows(fewer).transpose() * less.solve(scales, from.topRows(fewer));
        with[n].assign(a.data(), a.data() + a.size());
        without[n].assign(b.data(), b.data() + b.size());
    });
    std::vector<std::complex<double>> a, b;
    for (int n = 0; n < count; ++n) {
        a.insert(a.end(), with[n].begin(), with[n].end());
        b.insert(b.end(), without[n].begin(), without[n].end());
    }
    report.change_db = std::max(report.change_db, largest_change(a, b));
}

MatrixXd ReducedRoom::Parts::seen(std::span<const Point> places) const {
    const MatrixXd& functions = basis->functions();
    MatrixXd value = MatrixXd::Zero(functions.cols(), static_cast<long>(places.size()));
    for_each_in_parallel(places.size(), 16, [&](std::size_t n) {
        const PointValue at = solver.matrices().at(places[n]);
        for (std::size_t i = 0; i < at.unknown.size(); ++i)
            value.col(static_cast<long>(n)) +=
                at.share[i] * functions.row(at.unknown[i]).transpose();
    });
    return value;
}

ReducedRoom::ReducedRoom(const Room& room, const Air& air, double highest_frequency)
    : parts_(std::make_unique<Parts>(room, air, highest_frequency)) {}
ReducedRoom::~ReducedRoom() = default;
ReducedRoom::ReducedRoom(ReducedRoom&&) noexcept = default;
ReducedRoom& ReducedRoom::operator=(ReducedRoom&&) noexcept = default;

ReducedReport ReducedRoom::report() const {
    return parts_->report;
}

template <typename Real>
TransferImpedance<Real> ReducedRoom::transfer(std::span<const double> frequency,
                                              std::span<const Point> sources,
                                              std::span<const Point> receivers) {
    TransferImpedance<Real> z(frequency.size(), receivers.size(), sources.size());
    if (z.value.empty()) return z;
    for (const Point& s : sources)
        for (const Point& r : receivers)
            if (distance(s, r) < nearest)
                throw Error("room solver", "a source and a receiver are within 0.3 m",
                            "move one of them, or use --solver grid");
    // By reciprocity either side may sound.
    const bool forth = sources.size() <= receivers.size();
    parts_->learn(forth ? sources : receivers);
    const MatrixXd few = parts_->seen(forth ? sources : receivers);
    const MatrixXd many = parts_->seen(forth ? receivers : sources).transpose();
    for_each_in_parallel(frequency.size(), 4, [&](std::size_t f) {
        const OperatorScales scales = operator_scales(parts_->room, parts_->air, frequency[f]);
        const MatrixXcd field = parts_->model.solve(scales, few);
        const std::complex<double> load{0,
                                        2 * std::numbers::pi * frequency[f] * parts_->air.density};
        const MatrixXd real = many * field.real(), imaginary = many * field.imag();
        for (std::size_t r = 0; r < receivers.size(); ++r)
            for (std::size_t s = 0; s < sources.size(); ++s) {
                const auto row = static_cast<Eigen::Index>(forth ? r : s);
                const auto column = static_cast<Eigen::Index>(forth ? s : r);
                z.at(f, r, s) = static_cast<std::complex<Real>>(
                    load * std::complex<double>(real(row, column), imaginary(row, column)));
            }
    });
    return z;
}

template TransferImpedance<float> ReducedRoom::transfer(std::span<const double>,
                                                        std::span<const Point>,
                                                        std::span<const Point>);
template TransferImpedance<double> ReducedRoom::transfer(std::span<const double>,
                                                         std::span<const Point>,
                                                         std::span<const Point>);

}  // namespace boxroom
