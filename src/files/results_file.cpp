// What the three result files hold. F frequencies, S seats, Q subs, N spots, K subs a spot, B
// boxes.
//
// All files, root attributes: program "boxroom", kind "listening" | "ranking" | "plan", version,
// solver, input (the whole room file). Every dataset has the attributes `units` and `description`.
// complex = compound {r, i} of doubles; text = UTF-8 of fixed length, padded with zeros; flag =
// uint8, 0 or 1.
//
// listen.h5; root attribute absolute (int): 1 levels re 20 uPa at 2.83 V, 0 levels re the passband
//   /frequency                  double (F)      Hz
//   /seats/position             double (S,3)    m        x, y, z
//   /seats/name                 text   (S)
//   /seats/weight               double (S)      1
//   /subs/position              double (Q,3)    m
//   /subs/name                  text   (Q)
//   /subs/gain /delay           double (Q)      dB, s
//   /subs/polarity              int    (Q)      1        1 or -1
//   /transfer_impedance         complex (F,S,Q) Pa s/m3
//   /volume_velocity            complex (F,Q)   m3/s
//   /level                      double (F,S)    dB
//   /phase                      double (F,S)    degrees
//   /seat_average /half_space   double (F)      dB
//   /lift /target               double (F)      dB
//   /max_level /half_space_max_level  double (F)  dB     where the limits are known
//   /limited_by                 text   (F)               excursion, voltage, current, power
//   /crossover/subs /mains /sum double (F)      dB       seat averages, where the file has mains
//   /crossover/level            double (F,S)    dB       both together
//   /criteria/spread /largest_difference /unevenness /balance /level   double ()  dB
//   /criteria/reach             double ()       Hz
//   /criteria/score             double ()       1
//
// rank.h5
//   /box/volume /qtc            double ()       m3, 1
//   /box/outer_size             double (3)      m        width, depth, height
//   /spots/rank                 int    (N)      1
//   /spots/position             double (N,K,3)  m        acoustic centres
//   /spots/footprint            double (N,3)    m        centre of the first box on the floor
//   /spots/facing               text   (N)
//   /spots/spread ... /score    double (N)      as under /criteria, one dataset a criterion
//   /maps/<name>/value /valid   double, flag (ny,nx)     row iy, column ix; attributes of the
//   group:
//                               title, quantity, unit, low_is_good, room_width, room_length, x0,
//                               y0, dx, dy (m), nx, ny
//   /reason                     text ()
//
// plan.h5: /spots/* and /maps/* as above (each spot with the box that suits it best), and
//   /boxes/qtc /volume /fc /f3  double (B)      1, m3, Hz, Hz
//   /boxes/outer_size           double (B,3)    m
//   /boxes/half_space_balance /in_room_balance  double (B)  dB
//   /boxes/loudest              double (B)      dB       where the limits are known
//   /boxes/fits                 flag   (B)      1        at the chosen spot
//   /boxes/half_space_best /in_room_best /half_space_build /in_room_build /textbook /build  int ()
//   1  rows of /boxes, from 0 /spots/box_qtc /box_volume  double (N)      1, m3 /chosen_spot/* as
//   /spots, N = 1 /at_build/* /at_textbook/*  as listen.h5: responses at the chosen spot (what is
//   known of them) /recommendation             text () /reason/spot /box /how_much text ()
//   /cautions                   text (any)
#include "files/results_file.hpp"

#include <cmath>

#include "files/columns.hpp"
#include "files/crossing_tables.hpp"
#include "files/results_head.hpp"
#include "results/criterion.hpp"

namespace boxroom {

namespace {

/// The member of every element of a list, for one dataset.
template <typename List, typename Get>
auto column(const List& list, Get get) {
    std::vector<std::decay_t<decltype(get(list[0]))>> out;
    for (const auto& item : list) out.push_back(get(item));
    return out;
}

template <typename List, typename Get>
std::vector<double> coordinates(const List& list, Get get) {
    std::vector<double> out;
    for (const auto& item : list) {
        const Point p = get(item);
        out.insert(out.end(), {p.x, p.y, p.z});
    }
    return out;
}

/// `root` is "" for listen.h5. A curve that was not worked out is left out, except in listen.h5
/// those that the contract names.
void write_response(Hdf5Writer& file, const std::string& root, const Listening& heard) {
    if (!root.empty() && heard.frequency.empty()) return;  // never worked out: no group
    const hsize_t f = heard.frequency.size(), s = heard.seats.size(), q = heard.subs.size();
    const auto curve = [&](const std::string& name, const auto& data,
                           const Hdf5Writer::Shape& shape, const Label& label,
                           bool contract = false) {
        if (!data.empty() || (contract && root.empty()))
            file.numbers(root + name, data, shape, label);
    };
    const std::string decibel =
        heard.absolute ? ", re 20 uPa at 2.83 V" : ", re the passband at 1 m in half space";

    file.attribute(root.empty() ? "/" : root, "absolute", heard.absolute ? 1 : 0);
    file.numbers(root + "/frequency", heard.frequency, {f}, {"Hz", "analysis frequencies"});
    file.numbers(root + "/seats/position",
                 coordinates(heard.seats, [](const Seat& x) { return x.at; }), {s, 3},
                 {"m", "seats: x from the left wall, y from the front wall, z from the floor"});
    file.texts(root + "/seats/name", column(heard.seats, [](const Seat& x) { return x.name; }),
               {"none", "names of the seats"});
    file.numbers(root + "/seats/weight",
                 column(heard.seats, [](const Seat& x) { return x.weight; }), {s},
                 {"1", "weights of the seats"});

    const auto& subs = heard.subs;
    file.numbers(root + "/subs/position",
                 coordinates(subs, [](const PlacedSub& x) { return x.at; }), {q, 3},
                 {"m", "acoustic centres of the subs, axes as for the seats"});
    file.texts(root + "/subs/name", column(subs, [](const PlacedSub& x) { return x.name; }),
               {"none", "names of the subs"});
    file.numbers(root + "/subs/gain",
                 column(subs, [](const PlacedSub& x) { return x.dial.gain_db; }), {q},
                 {"dB", "gain set on each sub"});
    file.numbers(root + "/subs/delay",
                 column(subs, [](const PlacedSub& x) { return x.dial.delay; }), {q},
                 {"s", "delay set on each sub"});
    file.integers(root + "/subs/polarity",
                  column(subs, [](const PlacedSub& x) { return x.dial.polarity; }), {q},
                  {"1", "polarity set on each sub, 1 or -1"});

    curve("/transfer_impedance", heard.transfer_impedance.values(), {f, s, q},
          {"Pa s/m3", "pressure at a seat over volume velocity of a sub, exp(+jwt)"}, true);
    curve("/volume_velocity", heard.volume_velocity.values(), {f, q},
          {"m3/s", "RMS volume velocity of each sub, its gain, delay and polarity included"}, true);
    curve("/cone_load", heard.cone_load_db.values(), {f, q},
          {"dB", "what the room's pressure on its cone does to the volume velocity of each sub"});
    curve("/level", heard.level_db.values(), {f, s}, {"dB", "level at each seat" + decibel}, true);
    curve("/phase", heard.phase_deg.values(), {f, s},
          {"degrees", "phase of the pressure at each seat"});
    for (const auto& c : curve_columns)
        curve(std::string("/") + c.dataset, heard.*c.member, {f},
              {"dB", c.description + (c.referred ? decibel : "")});
    if (!heard.limited_by.empty())
        file.texts(root + "/limited_by", heard.limited_by,
                   {"none", "what runs out first: excursion, voltage, current or power"});
    for (const Criterion& c : criterion_table)
        file.number(root + "/criteria/" + c.name, heard.criteria.*c.member,
                    {c.unit, c.description});
}

void write_spots(Hdf5Writer& file, const std::string& root, const std::vector<RankedSpot>& spots) {
    const hsize_t n = spots.size(), k = n ? spots.front().positions.size() : 0;
    std::vector<double> positions;
    for (const RankedSpot& spot : spots)
        for (const Point& p : spot.positions) positions.insert(positions.end(), {p.x, p.y, p.z});
    file.integers(root + "/rank", column(spots, [](const RankedSpot& x) { return x.rank; }), {n},
                  {"1", "place in the ranking, 1 is best"});
    file.numbers(root + "/position", positions, {n, k, 3}, {"m", "acoustic centres, one a sub"});
    file.numbers(root + "/footprint",
                 coordinates(spots, [](const RankedSpot& x) { return x.footprint; }), {n, 3},
                 {"m", "centre of the first box on the floor"});
    file.texts(root + "/facing",
               column(spots, [](const RankedSpot& x) { return facing_name(x.facing); }),
               {"none", "wall the driver looks at"});
    for (const Criterion& c : criterion_table)
        file.numbers(root + "/" + c.name,
                     column(spots, [&](const RankedSpot& x) { return x.criteria.*c.member; }), {n},
                     {c.unit, c.description});
}

void write_map(Hdf5Writer& file, const FloorMap& map) {
    if (map.value.empty()) return;
    const std::string root = "/maps/" + map.name;
    const Hdf5Writer::Shape shape{static_cast<hsize_t>(map.ny), static_cast<hsize_t>(map.nx)};
    file.numbers(root + "/value", map.value, shape, {map.unit.c_str(), map.title});
    file.flags(root + "/valid", map.valid, shape, {"1", "1 where the value counts, 0 where not"});
    file.attribute(root, "title", map.title);
    file.attribute(root, "quantity", map.quantity);
    file.attribute(root, "unit", map.unit);
    file.attribute(root, "low_is_good", map.low_is_good ? 1 : 0);
    file.attribute(root, "nx", map.nx);
    file.attribute(root, "ny", map.ny);
    for (const auto& [name, value] : {std::pair{"room_width", map.room_width},
                                      {"room_length", map.room_length},
                                      {"x0", map.x0},
                                      {"y0", map.y0},
                                      {"dx", map.dx},
                                      {"dy", map.dy}})
        file.attribute(root, name, value);
}

void write_boxes(Hdf5Writer& file, const Plan& plan) {
    const auto& boxes = plan.boxes;
    const hsize_t b = boxes.size();
    for (const BoxColumn& c : box_columns) {
        const auto values = column(boxes, c.of);
        // Unknown for one, unknown for all: what limits the level is of the driver, not of the box.
        if (c.dataset && !(b > 0 && std::isnan(values.front())))
            file.numbers(std::string("/boxes/") + c.dataset, values, {b}, {c.unit, c.description});
    }
    file.numbers("/boxes/outer_size",
                 coordinates(boxes,
                             [](const BoxOption& x) {
                                 return Point{x.outer.width, x.outer.depth, x.outer.height};
                             }),
                 {b, 3}, {"m", "outer width, depth and height"});
    file.flags("/boxes/fits",
               column(boxes, [](const BoxOption& x) { return std::uint8_t(x.fits ? 1 : 0); }), {b},
               {"1", "1 where the box fits at the chosen spot"});
    const auto choice = [&](const char* name, int index, const char* what) {
        file.integers(std::string("/boxes/") + name, std::span(&index, 1), {}, {"1", what});
    };
    choice("half_space_best", plan.half_space_best, "row of the box that is best in half space");
    choice("in_room_best", plan.in_room_best, "row of the box that is best in the room");
    choice("in_room_build", plan.in_room_build, "row of the room's box by the rule of balance");
    choice("half_space_build", plan.half_space_build,
           "row of the endless floor's box by the same rule");
    choice("textbook", plan.textbook, "row of the box nearest to Qtc 0.707");
    choice("build", plan.build, "row of the box to build");
}

}  // namespace

std::string listening_hdf5(const Listening& heard, const Provenance& from,
                           const Crossing* crossing) {
    Hdf5Writer file;
    write_provenance(file, "listening", from);
    write_response(file, "", heard);
    if (crossing) write_crossing(file, *crossing, heard.seats.size());
    return file.take();
}

std::string ranking_hdf5(const Ranking& ranking, const Provenance& from) {
    Hdf5Writer file;
    write_provenance(file, "ranking", from);
    write_ranked_box(file, ranking.box_volume, ranking.qtc, ranking.outer);
    write_spots(file, "/spots", ranking.spots);
    write_map(file, ranking.spread_map);
    write_map(file, ranking.score_map);
    file.text("/reason", ranking.reason, {"none", "what the best spot has over the rest"});
    return file.take();
}

std::string plan_hdf5(const Plan& plan, const PlanWords& words, const Provenance& from) {
    Hdf5Writer file;
    write_provenance(file, "plan", from);
    write_boxes(file, plan);
    write_spots(file, "/spots", plan.spots);
    if (!plan.spot_boxes.empty()) {
        const hsize_t n = plan.spots.size();
        file.numbers("/spots/box_qtc",
                     column(plan.spot_boxes, [](const BoxOption& x) { return x.qtc; }), {n},
                     {"1", "total Q in the box that suits this spot best"});
        file.numbers("/spots/box_volume",
                     column(plan.spot_boxes, [](const BoxOption& x) { return x.volume; }), {n},
                     {"m3", "net volume of the box that suits this spot best"});
    }
    write_spots(file, "/chosen_spot", {plan.spot});
    write_response(file, "/at_build", plan.at_build);
    write_response(file, "/at_textbook", plan.at_textbook);
    for (const FloorMap& map : plan.maps) write_map(file, map);
    file.text("/recommendation", words.recommendation, {"none", "which box, standing where"});
    file.text("/reason/spot", words.reason_spot, {"none", "why this spot"});
    file.text("/reason/box", words.reason_box, {"none", "why this box"});
    file.text("/reason/how_much", words.how_much, {"none", "how much it matters"});
    file.texts("/cautions", words.cautions, {"none", "what to mind when building and listening"});
    return file.take();
}

}  // namespace boxroom
