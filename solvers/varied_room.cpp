#include "solvers/varied_room.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "base/parallel.hpp"
#include "solvers/dense_algebra.hpp"
#include "solvers/stretched_room.hpp"
#include "solvers/summed_systems.hpp"
#include "solvers/varied_vectors.hpp"

namespace boxroom {
namespace {

using Eigen::MatrixXcd;
using Eigen::MatrixXd;

constexpr std::size_t neighbours = 10;  ///< frequencies that share their functions
constexpr std::size_t stations = 3;     ///< frequencies at which examples are solved for these:
constexpr std::size_t steps = stations - 1;        ///< ... from end to end,
constexpr std::size_t apart = neighbours / steps;  ///< each of so many frequencies
constexpr double left_out = 6e-4;  ///< of what the examples' fields have, on average
constexpr std::size_t lanes = VariedSystems::lanes;
static_assert(VariedRoom::together % lanes == 0);

/// Those that span the columns up to a share of `left_out` of what a column has on average. By the
/// products of rows or of columns, whichever are fewer: squares lose what is 1e-8 of the largest,
/// far below that share.
MatrixXd spanning(const MatrixXd& columns) {
    const bool by_rows = columns.rows() < columns.cols();
    const Eigen::Index count = std::min(columns.rows(), columns.cols());
    MatrixXd square = MatrixXd::Zero(count, count);
    if (by_rows)
        square.selfadjointView<Eigen::Lower>().rankUpdate(columns);
    else
        square.selfadjointView<Eigen::Lower>().rankUpdate(columns.transpose());
    const SymmetricParts parts = symmetric_parts(square);
    const double small = left_out * left_out * square.trace();
    Eigen::Index rest = 0;
    for (double sum = 0; rest + 1 < count; ++rest) {
        sum += std::max(0.0, parts.value(rest));
        if (sum > small) break;
    }
    const auto largest = parts.vector.rightCols(count - rest);
    if (by_rows) return largest;
    return columns *
           (largest * parts.value.tail(count - rest).cwiseSqrt().cwiseInverse().asDiagonal());
}

}  // namespace

VariedRoom::VariedRoom(ReducedRoom room, const Air& air, std::span<const double> frequency,
                       std::span<const RoomVariant> examples)
    : room_(std::move(room)), air_(air), frequency_(frequency.begin(), frequency.end()) {
    const ReducedModel& model = room_.model();
    for (std::size_t n = 0; n < model.wall.size(); ++n)
        if (model.wall[n].size() > 0) walls_.push_back(n);
    along_ = room_.stiffness_along();
    std::vector<MatrixXd> load;
    for (const RoomVariant& example : examples) load.push_back(room_.seen(places_of(example)));
    narrow_.resize((frequency_.size() + neighbours - 1) / neighbours);
    // Where neighbours end, others begin: what was solved there serves both.
    std::vector<MatrixXd> solved(steps * narrow_.size() + 1);
    for_each_in_parallel(solved.size(), 1, [&](std::size_t n) {
        const double f = frequency_[std::min(n * apart, frequency_.size() - 1)];
        solved[n] = example_fields(f, n % stations, examples, load);
    });
    for_each_in_parallel(narrow_.size(), 1, [&](std::size_t n) {
        narrow_[n] = narrow(n * neighbours, {&solved[steps * n], stations});
    });
}

Air VariedRoom::air_of(const RoomVariant& variant) const {
    Air air = air_;
    air.speed_of_sound *= variant.sound;
    return air;
}

/// What the operator is the sum of, each with its scale.
std::vector<const MatrixXd*> VariedRoom::parts() const {
    const ReducedModel& model = room_.model();
    std::vector<const MatrixXd*> all{&along_[0], &along_[1], &along_[2], &model.stiffness_elsewhere,
                                     &model.mass};
    for (const std::size_t wall : walls_) all.push_back(&model.wall[wall]);
    return all;
}

std::vector<std::complex<double>> VariedRoom::scales(const RoomVariant& variant,
                                                     double frequency) const {
    const OperatorScales own = operator_scales(variant.room, air_of(variant), frequency);
    const Stretch by = stretch_between(room_.room(), variant.room);
    const double volume = by[0] * by[1] * by[2], mean = std::cbrt(volume);
    std::vector<std::complex<double>> all;
    for (const double along : by) all.push_back(own.stiffness_room * volume / (along * along));
    all.push_back(own.stiffness_elsewhere * mean);
    all.push_back(own.mass * volume);
    for (const std::size_t wall : walls_) all.push_back(own.wall[wall] * (mean * mean));
    return all;
}

/// Receivers, then sources, in the room that was learnt.
std::vector<Point> VariedRoom::places_of(const RoomVariant& variant) const {
    std::vector<Point> places = variant.receivers;
    places.insert(places.end(), variant.sources.begin(), variant.sources.end());
    const Stretch back = stretch_between(variant.room, room_.room());
    for (Point& p : places) p = stretched(p, back);
    return places;
}

/// Fields at one frequency of every third example, from this one on.
MatrixXd VariedRoom::example_fields(double frequency, std::size_t from,
                                    std::span<const RoomVariant> examples,
                                    std::span<const MatrixXd> load) const {
    SummedSystems systems{parts(), {}};
    std::vector<const MatrixXd*> of_example;
    Eigen::Index columns = 0;
    for (std::size_t n = from; n < examples.size(); n += stations) {
        systems.scale.push_back(scales(examples[n], frequency));
        of_example.push_back(&load[n]);
        columns += 2 * load[n].cols();
    }
    MatrixXd fields(room_.model().size(), columns);
    columns = 0;
    for (MatrixXcd& x : systems.solve(of_example)) {
        for (Eigen::Index c = 0; c < x.cols(); ++c) x.col(c).normalize();  // each counts alike
        fields.middleCols(columns, x.cols()) = x.real();
        fields.middleCols(columns + x.cols(), x.cols()) = x.imag();
        columns += 2 * x.cols();
    }
    return fields;
}

VariedRoom::Narrow VariedRoom::narrow(std::size_t first, std::span<const MatrixXd> solved) const {
    Narrow result{first, std::min(neighbours, frequency_.size() - first), {}, {}};
    const auto parts = this->parts();
    Eigen::Index columns = 0;
    for (const MatrixXd& some : solved) columns += some.cols();
    MatrixXd fields(room_.model().size(), columns);
    columns = 0;
    for (const MatrixXd& some : solved) {
        fields.middleCols(columns, some.cols()) = some;
        columns += some.cols();
    }
    result.functions = spanning(fields);
    const Eigen::Index size = result.functions.cols();
    result.part.resize(static_cast<std::size_t>(size * (size + 1) / 2) * parts.size());
    for (std::size_t p = 0; p < parts.size(); ++p) {
        const MatrixXd small =
            result.functions.transpose() * MatrixXd(*parts[p] * result.functions);
        double* to = result.part.data() + p;
        for (Eigen::Index i = 0; i < size; ++i)
            for (Eigen::Index k = 0; k <= i; ++k, to += parts.size()) *to = small(i, k);
    }
    return result;
}

/// What the systems of some variants, one a lane, are made of at one frequency: [part][lane].
void VariedRoom::set_scales(std::span<const RoomVariant> some, double frequency,
                            std::vector<double>& re, std::vector<double>& im) const {
    for (std::size_t n = 0; n < lanes; ++n) {  // lanes to spare repeat the last
        const RoomVariant& one = some[std::min(n, some.size() - 1)];
        const auto all = scales(one, frequency);
        for (std::size_t p = 0; p < all.size(); ++p) {
            re[p * lanes + n] = all[p].real();
            im[p * lanes + n] = all[p].imag();
        }
    }
}

/// What the places of no more variants than there are lanes are of the room's functions. What is
/// one place of them all is asked for together: it moves within an element or two.
VariedRoom::Lanes VariedRoom::seen_in_lanes(std::span<const RoomVariant> some) const {
    const std::size_t columns = some.front().receivers.size() + some.front().sources.size();
    std::vector<Point> places(columns * some.size());
    for (std::size_t n = 0; n < some.size(); ++n) {
        const std::vector<Point> own = places_of(some[n]);
        for (std::size_t c = 0; c < columns; ++c) places[c * some.size() + n] = own[c];
    }
    const MatrixXd all = room_.seen(places);
    Lanes seen(all.rows(), static_cast<Eigen::Index>(columns * lanes));
    for (std::size_t c = 0; c < columns; ++c)
        for (std::size_t lane = 0; lane < lanes; ++lane)  // lanes to spare repeat the last
            seen.col(static_cast<Eigen::Index>(c * lanes + lane)) = all.col(
                static_cast<Eigen::Index>(c * some.size() + std::min(lane, some.size() - 1)));
    return seen;
}

/// At these neighbouring frequencies alone.
void VariedRoom::solve(const Narrow& narrow, std::span<const RoomVariant> some, const Lanes& seen,
                       TransferImpedance<float>* to) const {
    const std::size_t receivers = to->receivers, sources = to->sources;
    const std::size_t parts = this->parts().size();
    std::vector<double> scale_re(parts * lanes), scale_im(scale_re);
    std::vector<double> re(receivers * sources * lanes), im(re);
    const Lanes load = narrow.functions.transpose() * seen;
    VariedSystems systems{static_cast<int>(narrow.functions.cols()),
                          static_cast<int>(parts),
                          narrow.part.data(),
                          scale_re.data(),
                          scale_im.data(),
                          load.data(),
                          static_cast<int>(receivers),
                          static_cast<int>(sources),
                          re.data(),
                          im.data()};
    std::vector<double> scratch(static_cast<std::size_t>(systems.scratch_size()));
    systems.scratch = scratch.data();
    for (std::size_t f = narrow.first; f < narrow.first + narrow.count; ++f) {
        set_scales(some, frequency_[f], scale_re, scale_im);
        varied_vectors().solve(systems);
        const double volume = 2 * std::numbers::pi * frequency_[f] * air_.density;  // j w rho
        for (std::size_t n = 0; n < some.size(); ++n)
            for (std::size_t i = 0; i < receivers * sources; ++i)
                to[n].value[f * receivers * sources + i] = {
                    static_cast<float>(-volume * im[i * lanes + n]),
                    static_cast<float>(volume * re[i * lanes + n])};
    }
}

std::vector<TransferImpedance<float>> VariedRoom::transfer(
    std::span<const RoomVariant> variants) const {
    std::vector<TransferImpedance<float>> all;
    for (const RoomVariant& v : variants) {
        all.emplace_back(frequency_.size(), v.receivers.size(), v.sources.size());
        if (all.back().receivers != all.front().receivers ||
            all.back().sources != all.front().sources)
            throw std::length_error("variants of a room: other numbers of places");
    }
    const std::size_t batches = (variants.size() + lanes - 1) / lanes;
    const auto batch = [&](std::size_t n) {
        return variants.subspan(n * lanes, std::min(lanes, variants.size() - n * lanes));
    };
    std::vector<Lanes> seen(batches);
    for_each_in_parallel(batches, 1, [&](std::size_t n) { seen[n] = seen_in_lanes(batch(n)); });
    for_each_in_parallel(batches * narrow_.size(), 1, [&](std::size_t i) {
        const std::size_t n = i / narrow_.size();
        solve(narrow_[i % narrow_.size()], batch(n), seen[n], &all[n * lanes]);
    });
    return all;
}

}  // namespace boxroom
