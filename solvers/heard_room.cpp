#include "solvers/heard_room.hpp"

#include <Eigen/Core>
#include <algorithm>
#include <list>
#include <mutex>
#include <numbers>
#include <optional>

#include "base/parallel.hpp"
#include "solvers/surface_line.hpp"

namespace boxroom {
namespace {

using Complex = std::complex<double>;
using Eigen::Index;

constexpr std::size_t most_fields = 24;

/// What the pressures at some points are of the functions.
struct Seen {
    std::vector<Point> points;
    std::vector<std::size_t> index;  ///< of those in the air
    Eigen::MatrixXd value;           ///< one column each
};

}  // namespace

struct HeardRoom::Parts {
    /// Of a source at one place: [function][frequency].
    using Field = std::shared_ptr<const Eigen::MatrixXcd>;
    struct Line {
        std::vector<Point> places;
        SurfaceLine rooms;
    };

    std::vector<double> frequency;
    ReducedRoom learnt;
    std::mutex mutex;                           ///< of what follows
    std::list<std::pair<Point, Field>> fields;  ///< newest first
    std::shared_ptr<const Seen> seen;
    Room now;  ///< whose surfaces `learnt` does not have while `behind`
    bool behind = false;
    std::optional<Room> before;     ///< the one whose surfaces changed last
    std::optional<Line> line = {};  ///< on which they change

    Complex volume(double f) const { return {0, 2 * std::numbers::pi * f * learnt.air().density}; }

    Field find(const Point& p) const {
        const auto kept =
            std::ranges::find_if(fields, [&p](const auto& one) { return one.first == p; });
        return kept == fields.end() ? nullptr : kept->second;
    }

    /// All of them or none.
    std::vector<Field> kept(const std::vector<Point>& places) {
        const std::lock_guard lock(mutex);
        std::vector<Field> all;
        for (const Point& p : places) {
            all.push_back(find(p));
            if (!all.back()) return {};
        }
        return all;
    }

    std::vector<Field> solved(const std::vector<Point>& places) {
        catch_up();
        const Eigen::MatrixXd load = learnt.seen(places);
        if (before) {  // where surfaces change, they will again
            Line made{places,
                      SurfaceLine(learnt.model(), now, *before, learnt.air(), frequency, load)};
            const auto found = made.rooms.fields(now);
            {
                const std::lock_guard lock(mutex);
                line = std::move(made);
            }
            return keep(places, found.value());
        }
        return keep(places, learnt.fields(frequency, load));
    }

    /// Keeps the fields of sources at these places: [frequency], a column a place.
    std::vector<Field> keep(const std::vector<Point>& places,
                            const std::vector<Eigen::MatrixXcd>& found) {
        std::vector<Field> all;
        const std::lock_guard lock(mutex);
        for (std::size_t n = 0; n < places.size(); ++n) {
            Eigen::MatrixXcd field(learnt.model().size(), static_cast<Index>(found.size()));
            for (std::size_t f = 0; f < found.size(); ++f)
                field.col(static_cast<Index>(f)) = found[f].col(static_cast<Index>(n));
            all.push_back(std::make_shared<const Eigen::MatrixXcd>(std::move(field)));
            if (!find(places[n])) fields.push_front({places[n], all.back()});
        }
        while (fields.size() > std::max(most_fields, places.size())) fields.pop_back();
        return all;
    }

    void be(const Room& other) {
        fields.clear();
        const auto soon = line ? line->rooms.fields(other) : std::nullopt;
        if (soon)
            keep(line->places, *soon);
        else
            before = now, line.reset();
        now = other;
        behind = true;
    }

    void catch_up() {
        const std::lock_guard lock(mutex);
        if (behind) learnt.be(now);
        behind = false;
    }

    std::shared_ptr<const Seen> seen_at(const std::vector<Point>& points) {
        {
            const std::lock_guard lock(mutex);
            if (seen && seen->points == points) return seen;
        }
        auto made = std::make_shared<Seen>();
        made->points = points;
        std::vector<Point> in_the_air;
        for (std::size_t n = 0; n < points.size(); ++n)
            if (in_air(learnt.room(), points[n]))
                made->index.push_back(n), in_the_air.push_back(points[n]);
        made->value = learnt.seen(in_the_air);
        const std::lock_guard lock(mutex);
        return seen = made;
    }
};

HeardRoom::HeardRoom(ReducedRoom learnt, std::vector<double> frequency)
    : parts_(new Parts{std::move(frequency), std::move(learnt), {}, {}, {}, {}, false, {}}) {
    parts_->now = parts_->learnt.room();
}

HeardRoom::~HeardRoom() = default;

void HeardRoom::be(const Room& other) {
    parts_->be(other);
}

HeardRoom::HeardRoom(HeardRoom&&) noexcept = default;

TransferImpedance<double> HeardRoom::transfer(const std::vector<Point>& sources,
                                              const std::vector<Point>& receivers) const {
    TransferImpedance<double> z(parts_->frequency.size(), receivers.size(), sources.size());
    if (z.value.empty()) return z;
    auto fields = parts_->kept(receivers);
    const bool back = !fields.empty();
    if (!back) fields = parts_->kept(sources);
    if (fields.empty()) {
        std::vector<Point> all = sources;
        all.insert(all.end(), receivers.begin(), receivers.end());
        fields = parts_->solved(all);
        fields.resize(sources.size());
    }
    const Eigen::MatrixXd heard = parts_->learnt.seen(back ? sources : receivers).transpose();
    for (std::size_t n = 0; n < fields.size(); ++n) {
        const Eigen::MatrixXcd there = heard * *fields[n];
        for (std::size_t other = 0; other < static_cast<std::size_t>(there.rows()); ++other)
            for (std::size_t f = 0; f < z.frequencies; ++f)
                z.at(f, back ? n : other, back ? other : n) =
                    parts_->volume(parts_->frequency[f]) *
                    there(static_cast<Index>(other), static_cast<Index>(f));
    }
    return z;
}

std::vector<Complex> HeardRoom::field(const Point& source, const std::vector<Point>& points,
                                      double frequency) const {
    parts_->catch_up();
    const auto seen = parts_->seen_at(points);
    const Eigen::MatrixXcd x =
        parts_->learnt.fields({&frequency, 1}, parts_->learnt.seen({&source, 1})).front();
    const Eigen::MatrixXcd there = seen->value.transpose() * x;
    std::vector<Complex> out(points.size());
    for (std::size_t n = 0; n < seen->index.size(); ++n)
        out[seen->index[n]] = parts_->volume(frequency) * there(static_cast<Index>(n), 0);
    return out;
}

}  // namespace boxroom
