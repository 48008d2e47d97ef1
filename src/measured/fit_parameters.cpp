#include "measured/fit_parameters.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "measured/interval.hpp"
#include "solvers/constructions.hpp"
#include "solvers/stretched_room.hpp"

namespace boxroom {
namespace {

using Kind = FitParameter::Kind;

constexpr double sound_doubt = 0.005;  ///< 3 K
constexpr double fc_doubt = 0.06, qtc_doubt = 0.10;
constexpr double microphone_doubt = 0.02, sub_doubt = 0.03;  ///< [m]
constexpr double named_doubt = 2, numbers_doubt = 1.5;       ///< factors, as tuning/draws has them
constexpr const char* axes[] = {"from left", "from front", "height"};
constexpr const char* sides[] = {"width", "length", "height"};

double& axis_of(Point& p, int axis) {
    return axis == 0 ? p.x : axis == 1 ? p.y : p.z;
}
double side_of(const Room& room, int axis) {
    return axis == 0 ? room.width : axis == 1 ? room.length : room.height;
}

/// What may stand in a room that its file calls bare: for x = 0 next to nothing, for x = 2 a tenth
/// of the floor's area.
double area_in_bare_room(const Room& room, double x) {
    return 0.1 * room.width * room.length * std::exp(x - 2);
}

}  // namespace

FitParameters::FitParameters(const Scenario& scenario, const std::vector<Recording>& recordings,
                             std::optional<int> furniture_wall)
    : scenario_(scenario),
      recordings_(recordings),
      furniture_wall_(furniture_wall),
      surfaces_(room_surfaces(scenario)) {
    add_room();
    add_places();
    if (furniture_wall_)
        for (int n = 0; n < furniture_numbers; ++n) {
            const FurnitureNumber number =
                furniture_number(scenario.acoustics.room, *furniture_wall_, n);
            all_.push_back(
                {Kind::furniture, *furniture_wall_, n, number.name, number.unit, number.deviation});
        }
    find_groups();
}

void FitParameters::add_room() {
    const Room& room = scenario_.acoustics.room;
    const Uncertainty& file = scenario_.judgement.uncertainty;
    for (std::size_t n = 0; n < surfaces_.size(); ++n) {
        const bool by_name = rests_on_a_name(surfaces_[n].description);
        const double widest = by_name ? std::max(named_doubt, file.wall) : numbers_doubt;
        all_.push_back({Kind::wall, static_cast<int>(n), 0,
                        surfaces_[n].name + " absorption at 63 Hz", "1", std::log(widest) / z90});
    }
    all_.push_back({Kind::contents, 0, 0, "absorption area of the contents", "m2",
                    room.contents.empty() ? 1 : std::log(named_doubt) / z90});
    const double tape = std::max(file.room, 0.005) / z90;
    for (int a = 0; a < 3; ++a)
        all_.push_back({Kind::side, 0, a, std::string("room ") + sides[a], "m", tape});
    all_.push_back({Kind::sound, 0, 0, "speed of sound", "m/s", sound_doubt});
    all_.push_back({Kind::fc, 0, 0, "fc against the file's", "1", fc_doubt});
    all_.push_back({Kind::qtc, 0, 0, "Qtc against the file's", "1", qtc_doubt});
}

void FitParameters::add_places() {
    std::vector<const Recording*> first;
    for (const Recording& recording : recordings_) {
        const auto known = std::find_if(first.begin(), first.end(), [&](const Recording* other) {
            return other->at == recording.at;
        });
        place_.push_back(static_cast<int>(known - first.begin()));
        if (known == first.end()) first.push_back(&recording);
    }
    for (std::size_t i = 0; i < first.size(); ++i) {
        const std::string who = first[i]->seat ? *first[i]->seat : "microphone " + first[i]->name;
        for (int a = 0; a < 3; ++a)
            all_.push_back({Kind::microphone, static_cast<int>(i), a, who + " " + axes[a], "m",
                            microphone_doubt});
    }
    for (std::size_t q = 0; q < scenario_.placed.subs.size(); ++q)
        for (int a = 0; a < 2; ++a)
            all_.push_back({Kind::sub, static_cast<int>(q), a,
                            scenario_.placed.subs[q].name + " " + axes[a], "m", sub_doubt});
}

bool FitParameters::touches(std::size_t parameter, std::size_t recording) const {
    const FitParameter& p = all_[parameter];
    const Recording& r = recordings_[recording];
    if (p.kind == Kind::microphone) return place_[recording] == p.index;
    if (p.kind == Kind::sub)
        return !r.box_on_seat &&
               (!r.sub || *r.sub == scenario_.placed.subs[static_cast<std::size_t>(p.index)].name);
    return true;
}

void FitParameters::find_groups() {
    for (std::size_t i = 0; i < all_.size(); ++i) {
        const auto apart = [&](const std::vector<std::size_t>& group) {
            for (const std::size_t other : group)
                for (std::size_t r = 0; r < recordings_.size(); ++r)
                    if (touches(other, r) && touches(i, r)) return false;
            return true;
        };
        const auto group = std::find_if(groups_.begin(), groups_.end(), apart);
        if (group == groups_.end())
            groups_.push_back({i});
        else
            group->push_back(i);
    }
}

void FitParameters::apply(const FitParameter& p, double x, FitState& state) const {
    Room& room = state.scenario.acoustics.room;
    const double by = p.prior * x;
    switch (p.kind) {
        case Kind::wall:
            for (Branch& branch : surfaces_[static_cast<std::size_t>(p.index)].in(room).branches)
                branch.resistance *= std::exp(by);
            break;
        case Kind::contents:
            if (room.contents.empty())
                room.contents = constant_contents(area_in_bare_room(room, x));
            else
                room.contents.area *= std::exp(by);
            break;
        case Kind::side: {
            Stretch stretch = no_stretch;
            stretch[p.axis] += by / side_of(room, p.axis);
            room = stretched(std::move(room), stretch);
            break;
        }
        case Kind::sound:
            state.scenario.acoustics.air.speed_of_sound *= std::exp(by);
            break;
        case Kind::fc:
            state.fc_factor = std::exp(by);
            break;
        case Kind::qtc:
            state.qtc_factor = std::exp(by);
            break;
        case Kind::microphone:
            for (std::size_t r = 0; r < recordings_.size(); ++r)
                if (place_[r] == p.index) axis_of(state.recordings[r].at, p.axis) += by;
            break;
        case Kind::sub:
            axis_of(state.scenario.placed.subs[static_cast<std::size_t>(p.index)].at, p.axis) += by;
            break;
        case Kind::furniture:  // all of it at once, when the walls are where they are
            break;
    }
}

FitState FitParameters::state(const Eigen::VectorXd& x) const {
    FitState state{scenario_, recordings_};
    for (std::size_t i = 0; i < all_.size(); ++i)
        apply(all_[i], x[static_cast<Eigen::Index>(i)], state);
    Room& room = state.scenario.acoustics.room;
    if (furniture_wall_)
        room.plan.blocks.push_back(furniture_block(room, state.scenario.acoustics.air,
                                                   *furniture_wall_, x.tail(furniture_numbers)));
    const Stretch by = stretch_between(scenario_.acoustics.room, room);
    const auto keep_inside = [&](Point& p, const Point& was) {
        for (int a = 0; a < 3; ++a)
            axis_of(p, a) = std::clamp(axis_of(p, a), 0.0, side_of(room, a));
        if (!room.is_rectangle() && !in_air(room, p)) p = stretched(was, by);
    };
    for (std::size_t r = 0; r < recordings_.size(); ++r)
        keep_inside(state.recordings[r].at, recordings_[r].at);
    for (std::size_t q = 0; q < scenario_.placed.subs.size(); ++q)
        keep_inside(state.scenario.placed.subs[q].at, scenario_.placed.subs[q].at);
    for (std::size_t s = 0; s < scenario_.seats.size(); ++s)
        keep_inside(state.scenario.seats[s].at, scenario_.seats[s].at);
    return state;
}

double FitParameters::value(std::size_t parameter, double x) const {
    const FitParameter& p = all_[parameter];
    FitState state{scenario_, recordings_};
    apply(p, x, state);
    const Room& room = state.scenario.acoustics.room;
    switch (p.kind) {
        case Kind::wall:
            return random_incidence_absorption(
                surfaces_[static_cast<std::size_t>(p.index)].in(room).admittance(
                    2 * std::numbers::pi * 63, scenario_.acoustics.air));
        case Kind::contents:
            return room.contents.area;
        case Kind::side:
            return side_of(room, p.axis);
        case Kind::sound:
            return state.scenario.acoustics.air.speed_of_sound;
        case Kind::fc:
            return state.fc_factor;
        case Kind::qtc:
            return state.qtc_factor;
        case Kind::microphone:
            for (std::size_t r = 0; r < recordings_.size(); ++r)
                if (place_[r] == p.index) return axis_of(state.recordings[r].at, p.axis);
            return 0;
        case Kind::sub:
            return axis_of(state.scenario.placed.subs[static_cast<std::size_t>(p.index)].at,
                           p.axis);
        case Kind::furniture:
            return furniture_number(room, p.index, p.axis).at(x);
    }
    return 0;
}

}  // namespace boxroom
