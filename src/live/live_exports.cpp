// What the page's script may call: plain functions on a handle, plain numbers in and out. Compiled
// into the program as well, where the tests call it.
#include "live/live_exports.hpp"

#include "live/flat_scenario.hpp"
#include "live/live_room.hpp"
#include "results/criterion.hpp"

using namespace boxroom;

/// A room, and the numbers that were asked of it last.
struct LiveHandle {
    LiveRoom room;
    std::vector<double> numbers;
    std::string words, bytes;
};

namespace {

void append(std::vector<double>& to, const std::vector<double>& what) {
    to.insert(to.end(), what.begin(), what.end());
}

Wall taken_wall(const double* numbers, int branches) {
    Wall wall;
    for (int i = 0; i < branches; ++i)
        wall.branches.push_back({numbers[3 * i], numbers[3 * i + 1], numbers[3 * i + 2]});
    delete[] numbers;
    return wall;
}

}  // namespace

extern "C" {

double* live_numbers(int count) {
    return new double[count];
}

LiveHandle* live_open(const double* numbers, int count) {
    auto* handle = new LiveHandle{
        LiveRoom(scenario_from_flat({numbers, static_cast<std::size_t>(count)})), {}, {}, {}};
    delete[] numbers;
    return handle;
}

void live_close(LiveHandle* handle) {
    delete handle;
}

void live_set_seat(LiveHandle* handle, int seat, double x, double y, double z) {
    handle->room.set_seat(seat, {x, y, z});
}

void live_set_wall_absorption(LiveHandle* handle, int wall, double absorption) {
    handle->room.set_wall(wall,
                          wall_from_absorption(absorption, handle->room.scenario().acoustics.air));
}

void live_set_wall_branches(LiveHandle* handle, int wall, const double* numbers, int branches) {
    handle->room.set_wall(wall, taken_wall(numbers, branches));
}

void live_set_part(LiveHandle* handle, int wall, const double* numbers, int branches, double area) {
    handle->room.set_part(wall, taken_wall(numbers, branches), area);
}

void live_set_softness(LiveHandle* handle, double factor) {
    handle->room.set_softness(factor);
}

const double* live_wall(LiveHandle* handle, int wall) {
    const auto& branches = handle->room.wall(wall).branches;
    auto& out = handle->numbers;
    out = {static_cast<double>(branches.size())};
    for (const Branch& b : branches) append(out, {b.resistance, b.mass, b.stiffness});
    return out.data();
}

void live_set_box(LiveHandle* handle, double net_volume, double filling) {
    handle->room.set_box(net_volume, filling);
}

void live_set_place(LiveHandle* handle, int sub, double x, double y, int facing) {
    handle->room.set_place(sub, x, y, static_cast<Facing>(facing));
}

void live_set_dial(LiveHandle* handle, int sub, double gain_db, double delay, int polarity) {
    handle->room.set_dial(sub, {gain_db, delay, polarity});
}

const double* live_answer(LiveHandle* handle) {
    const LiveAnswer a = handle->room.answer();
    const Listening& l = a.at_seats;
    const std::size_t frequencies = l.frequency.size(), seats = l.seats.size();
    auto& out = handle->numbers;
    out = {static_cast<double>(a.standing.size()),
           static_cast<double>(frequencies),
           static_cast<double>(seats),
           a.box.qtc,
           a.box.fc,
           a.box.f3(),
           a.draft ? 1.0 : 0.0};
    for (const Seat& seat : l.seats) append(out, {seat.at.x, seat.at.y, seat.at.z});
    for (std::size_t n = 0; n < a.standing.size(); ++n) {
        const BoxStanding& box = a.standing[n];
        append(out, {a.fits[n] ? 1.0 : 0.0, box.footprint.x, box.footprint.y, box.cone.x,
                     box.cone.y, box.cone.z, static_cast<double>(box.facing), box.sides.width,
                     box.sides.depth, box.sides.height});
    }
    for (const Criterion& c : criterion_table)
        if (on_pages(c, false)) out.push_back(l.criteria.*c.member);
    for (std::size_t s = 0; s < seats; ++s)
        for (std::size_t f = 0; f < frequencies; ++f) out.push_back(l.level_db(f, s));
    for (const auto* curve :
         {&l.seat_average_db, &l.half_space_db, &l.target_db, &a.spread, &l.lift_db})
        append(out, *curve);
    return out.data();
}

int live_learnt(const LiveHandle* handle) {
    return handle->room.learnt();
}

void live_learn(LiveHandle* handle, void (*tell)(double)) {
    handle->room.learn(tell);
}

const char* live_kept(const LiveHandle* handle) {
    return handle->room.kept().data();
}

int live_kept_size(const LiveHandle* handle) {
    return static_cast<int>(handle->room.kept().size());
}

char* live_bytes(LiveHandle* handle, int size) {
    handle->bytes.assign(static_cast<std::size_t>(size), ' ');
    return handle->bytes.data();
}

int live_take(LiveHandle* handle) {
    const bool taken = handle->room.take(handle->bytes);
    handle->bytes = {};  // they are many
    return taken;
}

const double* live_balance(LiveHandle* handle, const double* qtc, int count) {
    const auto balance = handle->room.balance_by_qtc({qtc, static_cast<std::size_t>(count)});
    delete[] qtc;
    handle->numbers = balance[0];
    append(handle->numbers, balance[1]);
    return handle->numbers.data();
}

const double* live_map(LiveHandle* handle, int sub, double step) {
    const FloorMap map = handle->room.spread_map(sub, step);
    auto& out = handle->numbers;
    out = {
        static_cast<double>(map.nx), static_cast<double>(map.ny), map.x0, map.y0, map.dx, map.dy};
    for (std::size_t i = 0; i < map.value.size(); ++i)
        out.push_back(map.valid[i] ? map.value[i] : -1);
    return out.data();
}

const char* live_decay(LiveHandle* handle) {
    handle->words.clear();
    for (const std::string& sentence : handle->room.decay())
        handle->words += (handle->words.empty() ? "" : "\n") + sentence;
    return handle->words.c_str();
}
}
