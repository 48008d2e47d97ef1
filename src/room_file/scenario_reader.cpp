#include "room_file/scenario_reader.hpp"

#include <cmath>
#include <numbers>
#include <sstream>
#include <utility>

#include "placement/analysis_grid.hpp"
#include "room_file/wall_reader.hpp"

namespace boxroom {

Scenario ScenarioReader::read() {
    s_.title = root_.text("title").value_or("");
    read_air();
    read_room();
    read_driver();
    read_amplifier();
    read_box();
    read_seats();
    read_subs();
    read_crossover();
    read_mains();
    read_spots();
    read_build();
    read_keep_outs();
    read_score();
    read_search();
    read_analysis_and_target();
    TableReader map = root_.table("map", "[map]");
    s_.wanted.map_frequency = map.number("frequency", Quantity::frequency, audible, 40).value;
    map.close();
    root_.close();
    faults_.throw_if_any();
    Acoustics& a = s_.acoustics;
    if (a.resolved)
        a.frequency = analysis_grid(a.room, a.air, {a.frequency.front(), a.frequency.back()},
                                    s_.judgement.target.band);
    warn_of_odd_rooms();
    return std::move(s_);
}

TableReader ScenarioReader::required_table(const std::string& key, const std::string& begin) {
    TableReader table = root_.table(key, '[' + key + ']');
    if (!root_.has(key))
        faults_.add(1, "the file has no [" + key + "] table", "add [" + key + "] with " + begin);
    return table;
}

void ScenarioReader::read_air() {
    TableReader air = root_.table("air", "[air]");
    s_.acoustics.air.speed_of_sound =
        air.number("speed_of_sound", Quantity::speed, {250, 450, "between 250 m/s and 450 m/s"},
                   s_.acoustics.air.speed_of_sound)
            .value;
    s_.acoustics.air.density =
        air.number("density", Quantity::density, {0.5, 2, "between 0.5 kg/m3 and 2 kg/m3"},
                   s_.acoustics.air.density)
            .value;
    air.close();
}

void ScenarioReader::read_room() {
    TableReader room = required_table("room", "width, length and height");
    const Limits side{1, 50, "between 1 m and 50 m"};
    const bool planned = room.has("floor_plan");
    bool sides_good = false;
    if (planned) {
        sides_good = read_outline(room);
        for (const char* key : {"width", "length"})
            if (room.has(key))
                room.fault(key, "[room] has a floor_plan and a " + std::string(key) + " too",
                           "keep one of the two ways to describe a room");
    } else {
        const Checked width = room.required("width", Quantity::length, side);
        const Checked length = room.required("length", Quantity::length, side);
        sides_good = width.good && length.good;
        s_.acoustics.room.width = width.value;
        s_.acoustics.room.length = length.value;
    }
    const Checked height = room.required("height", Quantity::length, side);
    room.close();
    room_known_ = sides_good && height.good;
    s_.acoustics.room.height = height.value;
    TableReader walls =
        required_table("walls", planned ? "edge_1, edge_2, ... (or edges), floor and ceiling"
                                        : "left, right, front, back, floor and ceiling");
    if (planned)
        read_plan_walls(walls);
    else
        read_walls(walls, s_.acoustics.air, s_.acoustics.room, faults_);
    plan_to_rectangle();
    read_blocks();
    read_spaces();
    read_openings();
    walls_line_ = walls.line();
}

void ScenarioReader::read_driver() {
    TableReader driver = required_table("driver", "fs, qts and vas from the data sheet");
    DriverSheet& d = s_.design.driver;
    const Checked fs = driver.required("fs", Quantity::frequency, audible);
    const Checked qts = driver.required("qts", Quantity::plain, {0.01, 2, "between 0.01 and 2"});
    const Checked vas =
        driver.required("vas", Quantity::volume, {1e-5, 10, "between 0.01 L and 10 000 L"});
    const Limits q{0.01, 100, "between 0.01 and 100"};
    d.fs = fs.value, d.qts = qts.value, d.vas = vas.value;
    d.qes = driver.optional("qes", Quantity::plain, q);
    d.qms = driver.optional("qms", Quantity::plain, q);
    d.re = driver.optional("re", Quantity::resistance, {0.1, 100, "between 0.1 ohm and 100 ohm"});
    d.le = driver.optional("le", Quantity::inductance, {0, 0.1, "between 0 mH and 100 mH"});
    d.sd = driver.optional("sd", Quantity::area, {1e-4, 2, "between 1 cm2 and 2 m2"});
    d.xmax = driver.optional("xmax", Quantity::length, {1e-5, 0.2, "between 0.01 mm and 200 mm"});
    d.bl = driver.optional("bl", Quantity::force_factor, {0.1, 200, "between 0.1 and 200 T m"});
    d.mms = driver.optional("mms", Quantity::mass, {1e-4, 10, "between 0.1 g and 10 kg"});
    d.power = driver.optional("power", Quantity::power, {0.1, 1e5, "between 0.1 W and 100 kW"});
    driver.close();
    driver_known_ = fs.good && qts.good && vas.good;
    if (driver_known_)
        faults_.attempt(driver.line(), "[driver]", [&] {
            const Driver whole = complete_driver(d, s_.acoustics.air);
            driver_absolute_ = whole.absolute();
            s_.warnings.insert(s_.warnings.end(), whole.warnings.begin(), whole.warnings.end());
        });
}

void ScenarioReader::read_amplifier() {
    TableReader amplifier = root_.table("amplifier", "[amplifier]");
    s_.design.amplifier.power =
        amplifier.optional("power", Quantity::power, {0.1, 1e5, "between 0.1 W and 100 kW"});
    s_.design.amplifier.load =
        amplifier.optional("load", Quantity::resistance, {0.5, 100, "between 0.5 ohm and 100 ohm"});
    amplifier.close();
}

/// Rooms that no builder has: the mean random-incidence absorption at 63 Hz by area.
void ScenarioReader::warn_of_odd_rooms() {
    const Room& r = s_.acoustics.room;
    double absorbed = 0, area = 0;
    const auto add = [&](const Wall& wall, double size) {
        const auto beta = wall.admittance(2 * std::numbers::pi * 63, s_.acoustics.air);
        absorbed += size * random_incidence_absorption(beta);
        area += size;
    };
    const bool planned = !r.plan.outline.empty();
    const double floor = planned ? outline_area(r.plan.outline) : r.width * r.length;
    for (int w = planned ? 4 : 0; w < 6; ++w)
        add(r.walls[w], w < 2 ? r.length * r.height : w < 4 ? r.width * r.height : floor);
    for (std::size_t i = 0; i < r.plan.edges.size(); ++i) {
        const Point &a = r.plan.outline[i], &b = r.plan.outline[(i + 1) % r.plan.outline.size()];
        add(r.plan.edges[i].wall, std::hypot(b.x - a.x, b.y - a.y) * r.height);
    }
    const double mean = absorbed / area;
    std::ostringstream text;
    text.precision(2);
    text << faults_.where(walls_line_) << ": the walls absorb " << mean << " on average at 63 Hz: ";
    if (mean < 0.01)
        s_.warnings.push_back(text.str() +
                              "too live to be true, for even masonry rooms leak more "
                              "through doors and windows");
    else if (mean > 0.5)
        s_.warnings.push_back(text.str() +
                              "too dead to be true, for ordinary walls absorb far less "
                              "bass");
}

}  // namespace boxroom
