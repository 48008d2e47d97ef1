#include "live/flat_scenario.hpp"

#include <cmath>
#include <limits>

#include "base/error.hpp"

namespace boxroom {
namespace {

/// Both directions go through the same list of fields, so that they cannot drift apart.
class Writer {
  public:
    std::vector<double> numbers;
    void operator()(const double& value) { numbers.push_back(value); }
    void operator()(const std::optional<double>& value) {
        numbers.push_back(value.value_or(std::numeric_limits<double>::quiet_NaN()));
    }
    void operator()(const bool& value) { numbers.push_back(value ? 1 : 0); }
    void operator()(const int& value) { numbers.push_back(value); }
    void operator()(const Facing& value) { numbers.push_back(static_cast<int>(value)); }
    template <typename Item, typename Each>
    void list(const std::vector<Item>& items, const Each& each) {
        numbers.push_back(static_cast<double>(items.size()));
        for (const Item& item : items) each(item);
    }
};

class Reader {
  public:
    explicit Reader(std::span<const double> numbers) : numbers_(numbers) {}
    void operator()(double& value) { value = next(); }
    void operator()(std::optional<double>& value) {
        const double number = next();
        value = std::isnan(number) ? std::nullopt : std::optional(number);
    }
    void operator()(bool& value) { value = next() != 0; }
    void operator()(int& value) { value = static_cast<int>(next()); }
    void operator()(Facing& value) { value = static_cast<Facing>(static_cast<int>(next())); }
    template <typename Item, typename Each>
    void list(std::vector<Item>& items, const Each& each) {
        const double count = next();
        if (!(count >= 0 && count <= static_cast<double>(numbers_.size()))) fail();
        items.resize(static_cast<std::size_t>(count));
        for (Item& item : items) each(item);
    }
    void finish() const {
        if (at_ != numbers_.size()) fail();
    }

  private:
    double next() {
        if (at_ == numbers_.size()) fail();
        return numbers_[at_++];
    }
    [[noreturn]] void fail() const {
        throw Error("live page", "the scenario's numbers are not in the order of this version",
                    "make the report again with the same program");
    }
    std::span<const double> numbers_;
    std::size_t at_ = 0;
};

template <typename Visitor, typename W>
void visit_wall(Visitor& v, W& wall) {
    v.list(wall.branches, [&](auto& b) { v(b.resistance), v(b.mass), v(b.stiffness); });
}

template <typename Visitor, typename P>
void visit_point(Visitor& v, P& point) {
    v(point.x), v(point.y), v(point.z);
}

template <typename Visitor, typename P>
void visit_plan(Visitor& v, P& plan) {
    v.list(plan.outline, [&](auto& corner) { visit_point(v, corner); });
    v.list(plan.edges, [&](auto& edge) { visit_wall(v, edge.wall); });
    v.list(plan.blocks, [&](auto& block) {
        visit_point(v, block.from), visit_point(v, block.to);
        visit_wall(v, block.surface.wall);
    });
    v.list(plan.spaces, [&](auto& space) {
        visit_point(v, space.from), visit_point(v, space.to);
        v.list(space.walls, [&](auto& named) { visit_wall(v, named.wall); });
    });
    v.list(plan.openings, [&](auto& opening) {
        visit_point(v, opening.from), visit_point(v, opening.to);
        v(opening.space), v(opening.either);
    });
}

template <typename Visitor, typename S>
void visit(Visitor& v, S& s) {
    v(s.acoustics.air.speed_of_sound), v(s.acoustics.air.density);
    v(s.acoustics.room.width), v(s.acoustics.room.length), v(s.acoustics.room.height);
    for (auto& wall : s.acoustics.room.walls) visit_wall(v, wall);
    visit_plan(v, s.acoustics.room.plan);
    auto& c = s.acoustics.room.contents;
    v(c.area), v(c.q), v(c.frequency);
    auto& d = s.design.driver;
    v(d.fs), v(d.qts), v(d.vas);
    for (auto* value : {&d.qes, &d.qms, &d.re, &d.le, &d.sd, &d.xmax, &d.bl, &d.mms, &d.power})
        v(*value);
    v(s.design.box_volume), v(s.design.filling);
    auto& e = s.design.enclosure;
    v(e.thickness), v(e.extra_volume), v(e.feet), v(e.facing);
    v(e.proportion_width), v(e.proportion_height), v(e.proportion_depth);
    v(e.tallest), v(e.double_front), v(e.itemised);
    v(e.bodies.driver.value), v(e.bodies.amplifier.value), v(e.bodies.bracing);
    v(e.bodies.braces), v(e.bodies.cleats);
    v.list(s.seats, [&](auto& seat) { visit_point(v, seat.at), v(seat.weight); });
    v.list(s.placed.subs, [&](auto& sub) {
        visit_point(v, sub.at);
        v(sub.dial.gain_db), v(sub.dial.delay), v(sub.dial.polarity);
    });
    v.list(s.wanted.keep_outs, [&](auto& k) { v(k.x0), v(k.y0), v(k.x1), v(k.y1); });
    v.list(s.wanted.doors, [&](auto& door) { visit_point(v, door); });
    v(s.wanted.spots.step), v(s.wanted.spots.gap), v(s.wanted.spots.seat_clearance),
        v(s.wanted.spots.tallest), v(s.wanted.spots.way);
    v(s.judgement.target.band.low), v(s.judgement.target.band.high), v(s.judgement.target.slope);
    v.list(s.judgement.target.curve, [&](auto& p) { v(p.frequency), v(p.level_db); });
    v(s.judgement.weights.spread), v(s.judgement.weights.unevenness),
        v(s.judgement.weights.balance), v(s.judgement.weights.level),
        v(s.judgement.weights.ringing);
    v.list(s.acoustics.frequency, [&](auto& f) { v(f); });
}

}  // namespace

std::vector<double> flat_scenario(const Scenario& scenario) {
    Writer writer;
    visit(writer, scenario);
    return writer.numbers;
}

Scenario scenario_from_flat(std::span<const double> numbers) {
    Scenario scenario;
    Reader reader(numbers);
    visit(reader, scenario);
    reader.finish();
    return scenario;
}

}  // namespace boxroom
