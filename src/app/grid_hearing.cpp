#include "app/grid_hearing.hpp"

#include <algorithm>
#include <cmath>
#ifdef _OPENMP
#include <omp.h>
#endif

#include "app/session.hpp"
#include "base/error.hpp"

namespace boxroom {
namespace {

constexpr std::size_t most_bytes = 400e6;  // of the seats' runs, and of the subs'
constexpr double coarse_cell = 0.2;        // [m]

NodeWeights weights_or_none(const GridReach& reach, const Point& point) {
    try {
        return reach.weights(point);
    } catch (const Error&) {
        return {};  // deep in a wall: shown as nothing
    }
}

std::size_t nearest_index(const std::vector<double>& all, double value) {
    return std::min_element(all.begin(), all.end(),
                            [&](double a, double b) {
                                return std::abs(std::log(a / value)) <
                                       std::abs(std::log(b / value));
                            }) -
           all.begin();
}

GridOptions quiet(GridOptions options) {
    options.progress = nullptr;
    return options;
}

}  // namespace

GridHearing::GridHearing(const Scenario& scenario)
    : scenario_(scenario),
      reach_(scenario.acoustics.room, scenario.acoustics.air, scenario.acoustics.frequency,
             quiet(scenario.acoustics.solver.grid)) {}

double GridHearing::nearest_frequency(double frequency) const {
    return scenario_.acoustics.frequency[nearest_index(scenario_.acoustics.frequency, frequency)];
}

GridHearing::Field GridHearing::find(const std::vector<Kept>& all, const Point& from) const {
    const std::lock_guard lock(mutex_);
    for (const Kept& kept : all)
        if (kept.from == from) return kept.field;
    return nullptr;
}

/// The oldest runs make room, but none that the arrangement needs: it would be missed at once.
void GridHearing::keep(const Missing& run, NodeField field, const Arrangement& in_use) {
    const auto needed = [&](const Kept& kept) {
        return std::any_of(in_use.boxes.begin(), in_use.boxes.end(),
                           [&](const auto& box) { return box.sub.at == kept.from; }) ||
               std::any_of(in_use.seats.begin(), in_use.seats.end(),
                           [&](const Seat& seat) { return seat.at == kept.from; });
    };
    const std::lock_guard lock(mutex_);
    std::vector<Kept>& all = run.is_sub ? subs_ : seats_;
    std::erase_if(all, [&](const Kept& kept) { return kept.from == run.from; });
    all.push_back({run.from, std::make_shared<const NodeField>(std::move(field))});
    std::size_t bytes = 0;
    for (const Kept& kept : all) bytes += kept.field->bytes();
    for (auto oldest = all.begin(); oldest != all.end() && bytes > most_bytes;) {
        if (needed(*oldest)) {
            ++oldest;
            continue;
        }
        bytes -= oldest->field->bytes();
        oldest = all.erase(oldest);
    }
}

std::optional<ByFrequency<std::complex<double>>> GridHearing::transfer(
    const std::vector<PlacedSub>& subs, const std::vector<Seat>& seats) const {
    const std::size_t frequencies = scenario_.acoustics.frequency.size();
    ByFrequency<std::complex<double>> z(frequencies, seats.size(), subs.size());
    for (std::size_t s = 0; s < seats.size(); ++s) {
        const NodeWeights at_seat = reach_.weights(seats[s].at);
        const Field from_seat = find(seats_, seats[s].at);
        for (std::size_t q = 0; q < subs.size(); ++q) {
            const NodeWeights at_sub = reach_.weights(subs[q].at);
            const Field from_sub = find(subs_, subs[q].at);
            const bool by_sub = from_sub && from_sub->reaches(at_seat);
            if (!by_sub && !(from_seat && from_seat->reaches(at_sub))) return std::nullopt;
            for (std::size_t f = 0; f < frequencies; ++f)
                z(f, s, q) = by_sub ? from_sub->at(at_seat, f) : from_seat->at(at_sub, f);
        }
    }
    return z;
}

std::shared_ptr<const GridHearing::Weighed> GridHearing::weighed(
    const std::vector<Point>& points) const {
    {
        const std::lock_guard lock(mutex_);
        if (weighed_ && weighed_->points == points) return weighed_;
    }
    auto made = std::make_shared<Weighed>();
    made->points = points;
    for (const Point& point : points) made->weights.push_back(weights_or_none(reach_, point));
    const std::lock_guard lock(mutex_);
    return weighed_ = made;
}

std::optional<GridHearing::Pressures> GridHearing::field(const Point& sub,
                                                         const std::vector<Point>& points,
                                                         double frequency) const {
    const Field from_sub = find(subs_, sub);
    if (!from_sub) return std::nullopt;
    const auto all = weighed(points);
    const std::size_t f = nearest_index(scenario_.acoustics.frequency, frequency);
    Pressures out;
    for (const NodeWeights& weights : all->weights) {
        if (!from_sub->reaches(weights)) return std::nullopt;
        out.push_back(from_sub->at(weights, f));
    }
    return out;
}

std::optional<GridHearing::Pressures> GridHearing::sketch(const Point& sub,
                                                          const std::vector<Point>& points,
                                                          double frequency) const {
    const std::lock_guard lock(sketching_);
    const double start = seconds_now();
    if (start - sketched_ < 4 * sketch_took_) return std::nullopt;
#ifdef _OPENMP
    omp_set_num_threads(1);  // of this thread: so few cells are not worth two
#endif
    try {
        if (!coarse_ || coarse_->frequency().front() != frequency) {
            GridOptions options;
            options.spacing = coarse_cell;
            options.left_db = 0.5;
            coarse_.emplace(scenario_.acoustics.room, scenario_.acoustics.air,
                            std::vector{frequency}, options);
        }
        const NodeField field =
            coarse_->solve(sub, 0, scenario_.acoustics.room.height, {}, nullptr, nullptr);
        Pressures out;
        for (const Point& point : points) {
            const NodeWeights weights = weights_or_none(*coarse_, point);
            out.push_back(field.reaches(weights) ? field.at(weights, 0) : std::complex<double>{});
        }
        sketched_ = seconds_now();
        sketch_took_ = sketched_ - start;
        return out;
    } catch (const Error&) {
        return std::nullopt;
    }
}

std::vector<GridHearing::Missing> GridHearing::missing(const Arrangement& arrangement,
                                                       const std::vector<Point>& points) const {
    std::vector<Missing> out;
    const auto look = [&](bool is_sub, const std::string& name, const Point& from,
                          const std::vector<Point>& reach) {
        const Field field = find(is_sub ? subs_ : seats_, from);
        const bool there =
            field && std::all_of(reach.begin(), reach.end(), [&](const Point& point) {
                return field->reaches(weights_or_none(reach_, point));
            });
        if (!there) out.push_back({is_sub, name, from, reach});
    };
    std::vector<Point> seats = points, subs;
    for (const Seat& seat : arrangement.seats) seats.push_back(seat.at);
    for (const StandingBox& box : arrangement.boxes) subs.push_back(box.sub.at);
    for (const StandingBox& box : arrangement.boxes) look(true, box.sub.name, box.sub.at, seats);
    for (const Seat& seat : arrangement.seats) look(false, seat.name, seat.at, subs);
    return out;
}

Preparation GridHearing::prepare(const Arrangement& arrangement, const std::vector<Point>& points,
                                 const std::function<void(const std::string&, double)>& say,
                                 const std::function<bool()>& stop) {
    const std::vector<Missing> all = missing(arrangement, points);
    if (all.empty()) return {};
    const Missing& next = all.front();
    const std::string what = "solving the room on a grid from " + next.name +
                             (all.size() > 1 ? ", 1 of " + std::to_string(all.size()) : "");
    say(what, 0);
    // What can be moved keeps its height, or nearly, so a slab of the room round it is enough.
    double low = 1e9, high = -1e9;
    std::vector<Point> others;
    const double slack = next.is_sub ? 0 : 0.04;  // a larger box plays from higher up
    const std::size_t in_slab = next.is_sub ? points.size() : 0;
    for (std::size_t i = in_slab; i < next.reach.size(); ++i) {
        low = std::min(low, next.reach[i].z - slack);
        high = std::max(high, next.reach[i].z + slack);
    }
    for (const Point& point : next.reach)
        if (!weights_or_none(reach_, point).empty()) others.push_back(point);
    NodeField field = reach_.solve(
        next.from, low, high, others, [&](double share) { say(what, share); }, stop);
    if (field.empty()) return {};  // stopped
    keep(next, std::move(field), arrangement);
    return {all.size() > 1, ""};
}

}  // namespace boxroom
