#include "room_file/place_reader.hpp"

#include <algorithm>
#include <sstream>

#include "placement/listening.hpp"
#include "placement/standing.hpp"

namespace boxroom {
namespace {

// A place that was written to 0.01 mm (format_quantity) must not lie outside the room by that.
constexpr double typed_to = 1e-5;

const Limits length_in_room{0, 50, "between 0 m and 50 m"};

}  // namespace

std::optional<Point> read_point(TableReader& table, const std::string& who,
                                const ReadContext& context) {
    table.require("at", "[\"2.05 m\", \"3.50 m\", \"1.10 m\"]");
    const auto at = table.numbers("at", Quantity::length, 3, {-1e3, 1e3, "a place in the room"});
    if (!at) return std::nullopt;
    const Point point{(*at)[0], (*at)[1], (*at)[2]};
    const Room& r = context.room;
    const bool inside = point.x >= 0 && point.y >= 0 && point.z >= 0 &&
                        point.x <= r.width + typed_to && point.y <= r.length + typed_to &&
                        point.z <= r.height + typed_to;
    if (context.room_known && !inside) {
        std::ostringstream size;
        size << "keep x, y, z within 0 and " << r.width << ", " << r.length << ", " << r.height
             << " m (from the left wall, the front wall, the floor)";
        table.fault("at", who + " is outside the room", size.str());
        return std::nullopt;
    }
    if (context.room_known && !r.is_rectangle() && !r.contains(point)) {
        const Block* block = r.plan.block_at(point);
        table.fault("at",
                    block ? who + " is inside the block \"" + block->name + '"'
                          : who + " is outside the floor plan",
                    "move it into the air of the room");
        return std::nullopt;
    }
    return Point{std::min(point.x, context.room_known ? r.width : point.x),
                 std::min(point.y, context.room_known ? r.length : point.y),
                 std::min(point.z, context.room_known ? r.height : point.z)};
}

void claim_name(TableReader& table, const std::string& name, TakenNames& taken) {
    const auto [first, fresh] = taken.emplace(name, table.line("name"));
    if (!fresh)
        table.fault("name",
                    table.title() + " name \"" + name + "\" is taken by the one in line " +
                        std::to_string(first->second),
                    "give each its own name");
}

std::vector<Seat> read_seats(TableReader& file, const ReadContext& context) {
    std::vector<Seat> seats;
    TakenNames taken;
    double total = 0;
    bool weights_good = true;
    auto tables = file.tables("seat");
    for (TableReader& table : tables) {
        Seat seat;
        const auto name = table.required_text("name", "sofa, middle");
        if (name) claim_name(table, *name, taken);
        seat.name = name.value_or("");
        seat.at = read_point(table, "the seat \"" + seat.name + '"', context).value_or(Point{});
        const Checked weight = table.number("weight", Quantity::plain, {0, 1e6, "0 or more"}, 1);
        weights_good = weights_good && (weight.good || !table.has("weight"));
        total += seat.weight = weight.value;
        table.close();
        seats.push_back(seat);
    }
    if (!file.has("seat"))
        context.faults.add(1, "the file has no [[seat]]",
                           "add [[seat]] with a name and at = [x, y, z]");
    else if (!tables.empty() && weights_good && !(total > 0))
        tables.front().fault("weight", "every [[seat]] has the weight 0",
                             "give at least one seat a weight above 0");
    return seats;
}

int read_polarity(TableReader& table) {
    const auto polarity = table.text("polarity");
    if (polarity && *polarity != "+" && *polarity != "-")
        table.fault("polarity", table.title() + " polarity is \"" + *polarity + '"',
                    "write \"+\" or \"-\"");
    return polarity == "-" ? -1 : 1;
}

namespace {

void read_box_at(TableReader& table, const ReadContext& context, const std::string& name,
                 BoxPlace& place) {
    if (table.has("at"))
        table.fault("box_at", "[[sub]] has both at and box_at",
                    "keep one: at is the middle of the cone, box_at the centre of the box on the "
                    "floor");
    const auto at =
        table.numbers("box_at", Quantity::length, 2, {-1e3, 1e3, "a place in the room"});
    if (!at) return;
    const Point point{(*at)[0], (*at)[1], 0};
    const Room& room = context.room;
    if (context.room_known &&
        !(point.x >= 0 && point.y >= 0 && point.x <= room.width && point.y <= room.length)) {
        table.fault("box_at", "the box \"" + name + "\" is outside the room",
                    "write its centre on the floor, from the left and from the front wall");
        return;
    }
    place.footprint = point;
}

void read_sub_facing(TableReader& table, BoxPlace& place) {
    const auto word = table.text("facing");
    if (!word) return;
    place.facing = facing_named(*word);
    if (!place.facing)
        table.fault("facing", "[[sub]] facing is \"" + *word + "\", which is no direction",
                    "write inward, left, right, front, back, up or down");
}

}  // namespace

void stand_boxes(Scenario& scenario) {
    for (std::size_t n = 0; n < scenario.placed.subs.size(); ++n) {
        PlacedSub& sub = scenario.placed.subs[n];
        const BoxPlace place = place_of(scenario, n);
        if (!place.footprint) continue;
        double volume = sub.volume;
        if (!(volume > 0)) {
            std::vector<std::string> said;  // again by whoever asks for the box
            const Driver driver = complete_driver(scenario.design.driver, scenario.acoustics.air);
            volume = chosen_box(scenario, driver, said).volume;
        }
        sub.at = standing_of(scenario, sub, place, volume).cone;
    }
}

std::vector<PlacedSub> read_subs(TableReader& file, const ReadContext& context,
                                 std::vector<BoxPlace>& places) {
    std::vector<PlacedSub> subs;
    TakenNames taken;
    for (TableReader& table : file.tables("sub")) {
        PlacedSub sub;
        sub.name = table.text("name").value_or("sub " + std::to_string(subs.size() + 1));
        claim_name(table, sub.name, taken);
        BoxPlace& place = places.emplace_back();
        if (table.has("box_at"))
            read_box_at(table, context, sub.name, place);
        else
            sub.at = read_point(table, "the sub \"" + sub.name + '"', context).value_or(Point{});
        read_sub_facing(table, place);
        read_dials(table, sub);
        sub.volume = table.optional("volume", Quantity::volume, net_volume).value_or(0);
        table.close();
        subs.push_back(sub);
    }
    const auto silent = [](const BoxPlace& place) { return !place.footprint && !place.facing; };
    if (std::ranges::all_of(places, silent)) places.clear();
    return subs;
}

SpotRules read_spots(TableReader& file) {
    TableReader spots = file.table("spots", "[spots]");
    SpotRules r;
    r.step =
        spots.number("step", Quantity::length, {0.01, 5, "between 1 cm and 5 m"}, r.step).value;
    r.gap = spots.number("gap", Quantity::length, {0, 5, "between 0 m and 5 m"}, r.gap).value;
    r.seat_clearance =
        spots.number("seat_clearance", Quantity::length, length_in_room, r.seat_clearance).value;
    r.tallest =
        spots.number("tallest", Quantity::length, {0.05, 50, "between 5 cm and 50 m"}, r.tallest)
            .value;
    r.way = spots.number("way", Quantity::length, {0, 3, "between 0 m and 3 m"}, r.way).value;
    spots.close();
    return r;
}

void read_keep_outs(TableReader& file, const ReadContext& context,
                    std::vector<KeepOut>& keep_outs) {
    for (TableReader& table : file.tables("keep_out")) {
        KeepOut k;
        k.name = table.text("name").value_or("keep-out " + std::to_string(keep_outs.size() + 1));
        table.require("from", "[\"3.2 m\", \"4.1 m\"]");
        table.require("to", "[\"4.1 m\", \"5.2 m\"]");
        const Limits place{-1e3, 1e3, "a place in the room"};
        const auto from = table.numbers("from", Quantity::length, 2, place);
        const auto to = table.numbers("to", Quantity::length, 2, place);
        table.close();
        if (!from || !to) continue;
        k = {k.name, (*from)[0], (*from)[1], (*to)[0], (*to)[1]};
        if (!(k.x0 < k.x1 && k.y0 < k.y1))
            table.fault("to",
                        "[[keep_out]] \"" + k.name + "\" has no area: `to` must lie beyond `from`",
                        "write the corner nearer to the left and front walls as `from`");
        for (const char* key : {"from", "to"}) {
            const auto& corner = key[0] == 'f' ? *from : *to;
            if (context.room_known &&
                !(corner[0] >= 0 && corner[1] >= 0 && corner[0] <= context.room.width + typed_to &&
                  corner[1] <= context.room.length + typed_to))
                table.fault(key, "[[keep_out]] \"" + k.name + "\" reaches outside the room",
                            "keep it within the room's width and length");
        }
        keep_outs.push_back(k);
    }
}

}  // namespace boxroom
