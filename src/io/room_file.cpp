#include "io/room_file.hpp"

#include <cmath>
#include <fstream>
#include <iterator>
#include <map>
#include <numbers>
#include <sstream>

#include "io/toml_reader.hpp"
#include "io/wall_reader.hpp"

namespace boxroom {
namespace {

// A wall end written in feet must not lie outside the room by a rounding error.
constexpr double rounding = 1e-6;

const Limits audible{1, 1000, "between 1 Hz and 1000 Hz"};
const Limits length_in_room{0, 50, "between 0 m and 50 m"};

/// Reads the tables of one file into one scenario; everything wrong goes to `faults`.
class RoomFileReader {
  public:
    RoomFileReader(const toml::table& root, std::string name)
        : file_(std::move(name)), faults_(file_), root_(&root, "the file", 1, faults_) {}

    Scenario read() {
        s_.title = root_.text("title").value_or("");
        read_air();
        read_room();
        read_driver();
        read_amplifier();
        read_box();
        read_seats();
        read_subs();
        read_spots();
        read_keep_outs();
        read_score();
        read_analysis_and_target();
        TableReader map = root_.table("map", "[map]");
        s_.map_frequency = map.number("frequency", Quantity::frequency, audible, 40).value;
        map.close();
        root_.close();
        faults_.throw_if_any();
        warn_of_odd_rooms();
        return std::move(s_);
    }

  private:
    TableReader required_table(const std::string& key, const std::string& begin) {
        TableReader table = root_.table(key, '[' + key + ']');
        if (!root_.has(key))
            faults_.add(1, "the file has no [" + key + "] table", "add [" + key + "] with " + begin);
        return table;
    }

    void read_air() {
        TableReader air = root_.table("air", "[air]");
        s_.air.speed_of_sound = air.number("speed_of_sound", Quantity::speed,
                                           {250, 450, "between 250 m/s and 450 m/s"},
                                           s_.air.speed_of_sound).value;
        s_.air.density = air.number("density", Quantity::density,
                                    {0.5, 2, "between 0.5 kg/m3 and 2 kg/m3"},
                                    s_.air.density).value;
        air.close();
    }

    void read_room() {
        TableReader room = required_table("room", "width, length and height");
        const Limits side{1, 50, "between 1 m and 50 m"};
        const Checked width = room.required("width", Quantity::length, side);
        const Checked length = room.required("length", Quantity::length, side);
        const Checked height = room.required("height", Quantity::length, side);
        room.close();
        room_known_ = width.good && length.good && height.good;
        s_.room.width = width.value;
        s_.room.length = length.value;
        s_.room.height = height.value;
        TableReader walls = required_table("walls", "left, right, front, back, floor and ceiling");
        read_walls(walls, s_.air, s_.room, faults_);
        walls_line_ = walls.line();
    }

    void read_driver() {
        TableReader driver = required_table("driver", "fs, qts and vas from the data sheet");
        DriverSheet& d = s_.driver;
        const Checked fs = driver.required("fs", Quantity::frequency, {1, 1000, audible.wanted});
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
                const Driver whole = complete_driver(d, s_.air);
                s_.warnings.insert(s_.warnings.end(), whole.warnings.begin(), whole.warnings.end());
            });
    }

    void read_amplifier() {
        TableReader amplifier = root_.table("amplifier", "[amplifier]");
        s_.amplifier_power = amplifier.optional("power", Quantity::power,
                                                {0.1, 1e5, "between 0.1 W and 100 kW"});
        s_.amplifier_load = amplifier.optional("load", Quantity::resistance,
                                               {0.5, 100, "between 0.5 ohm and 100 ohm"});
        amplifier.close();
    }

    void read_box() {
        TableReader box = root_.table("box", "[box]");
        EnclosureRules& e = s_.enclosure;
        s_.box_volume = box.optional("volume", Quantity::volume, volume_limits());
        s_.filling = box.number("filling", Quantity::plain, {1, 1.4, "between 1 and 1.4"}, 1).value;
        e.thickness = box.number("thickness", Quantity::length, {0.003, 0.1, "between 3 mm and 100 mm"},
                                 e.thickness).value;
        e.extra_volume = box.number("extra_volume", Quantity::volume, {0, 1, "between 0 L and 1000 L"},
                                    e.extra_volume).value;
        e.feet = box.number("feet", Quantity::length, {0, 1, "between 0 m and 1 m"}, e.feet).value;
        if (const auto sides = box.numbers("proportions", Quantity::plain, 3,
                                           {0.05, 20, "between 0.05 and 20"})) {
            e.proportion_width = (*sides)[0];
            e.proportion_height = (*sides)[1];  // the file says width, height, depth
            e.proportion_depth = (*sides)[2];
        }
        if (const auto facing = box.text("facing")) read_facing(box, *facing);
        if (box.has("sweep")) {
            TableReader sweep = box.table("sweep", "[box] sweep");
            if (sweep.present()) read_sweep(sweep);
        }
        box.close();
    }

    static Limits volume_limits() { return {1e-4, 10, "between 0.1 L and 10 000 L"}; }

    void read_facing(TableReader& box, const std::string& word) {
        const std::vector<std::pair<std::string, Facing>> all{
            {"inward", Facing::inward}, {"left", Facing::left}, {"right", Facing::right},
            {"front", Facing::front}, {"back", Facing::back}, {"up", Facing::up},
            {"down", Facing::down}};
        for (const auto& [name, facing] : all)
            if (word == name) {
                s_.enclosure.facing = facing;
                return;
            }
        box.fault("facing", "[box] facing is \"" + word + "\", which is no direction",
                  "write inward, left, right, front, back, up or down");
    }

    void read_sweep(TableReader& sweep) {
        const auto qtc = sweep.numbers("qtc", Quantity::plain, 2, {0.1, 5, "between 0.1 and 5"});
        const auto volume = sweep.numbers("volume", Quantity::volume, 2, volume_limits());
        const int steps = sweep.whole_number("steps", 2, 1000).value_or(29);
        if (sweep.has("qtc") == sweep.has("volume"))
            sweep.fault("qtc", "[box] sweep wants either qtc or volume",
                        "write { qtc = [0.5, 1.2], steps = 29 } or { volume = [\"10 L\", \"60 L\"], "
                        "steps = 29 }");
        sweep.close();
        if (qtc && !((*qtc)[0] < (*qtc)[1]))
            sweep.fault("qtc", "[box] sweep qtc does not rise", "write the smaller Qtc first");
        else if (qtc && driver_known_ && !((*qtc)[0] > s_.driver.qts)) {
            std::ostringstream mend;
            mend << "start above the driver's Qts of " << s_.driver.qts;
            sweep.fault("qtc", "[box] sweep starts at a Qtc that no closed box can give this driver",
                        mend.str());
        } else if (qtc) {
            s_.sweep = QtcSweep{(*qtc)[0], (*qtc)[1], steps};
        }
        if (!volume) return;
        const double low = (*volume)[0], high = (*volume)[1];
        if (!(low < high)) {
            sweep.fault("volume", "[box] sweep volume does not rise", "write the smaller volume first");
            return;
        }
        // Even ratios: what a litre does depends on how many there are already.
        s_.volume_sweep.emplace();
        for (int i = 0; i < steps; ++i)
            s_.volume_sweep->push_back(low * std::pow(high / low, double(i) / (steps - 1)));
    }

    /// `at` = three lengths within the room.
    std::optional<Point> read_point(TableReader& table, const std::string& who) {
        table.require("at", "[\"2.05 m\", \"3.50 m\", \"1.10 m\"]");
        const auto at = table.numbers("at", Quantity::length, 3, {-1e3, 1e3, "a place in the room"});
        if (!at) return std::nullopt;
        const Point point{(*at)[0], (*at)[1], (*at)[2]};
        const Room& r = s_.room;
        const bool inside = point.x >= 0 && point.y >= 0 && point.z >= 0 &&
                            point.x <= r.width + rounding && point.y <= r.length + rounding &&
                            point.z <= r.height + rounding;
        if (room_known_ && !inside) {
            std::ostringstream size;
            size << "keep x, y, z within 0 and " << r.width << ", " << r.length << ", " << r.height
                 << " m (from the left wall, the front wall, the floor)";
            table.fault("at", who + " is outside the room", size.str());
            return std::nullopt;
        }
        return Point{std::min(point.x, room_known_ ? r.width : point.x),
                     std::min(point.y, room_known_ ? r.length : point.y),
                     std::min(point.z, room_known_ ? r.height : point.z)};
    }

    /// Notes a name; a second thing of that name is a fault.
    void claim(TableReader& table, const std::string& name, std::map<std::string, int>& taken) {
        const auto [first, fresh] = taken.emplace(name, table.line("name"));
        if (!fresh)
            table.fault("name", table.title() + " name \"" + name + "\" is taken by the one in line " +
                                    std::to_string(first->second),
                        "give each its own name");
    }

    void read_seats() {
        std::map<std::string, int> taken;
        double total = 0;
        bool weights_good = true;
        auto tables = root_.tables("seat");
        for (TableReader& table : tables) {
            Seat seat;
            const auto name = table.required_text("name", "sofa, middle");
            if (name) claim(table, *name, taken);
            seat.name = name.value_or("");
            seat.at = read_point(table, "the seat \"" + seat.name + '"').value_or(Point{});
            const Checked weight =
                table.number("weight", Quantity::plain, {0, 1e6, "0 or more"}, 1);
            weights_good = weights_good && (weight.good || !table.has("weight"));
            total += seat.weight = weight.value;
            table.close();
            s_.seats.push_back(seat);
        }
        if (!root_.has("seat"))
            faults_.add(1, "the file has no [[seat]]", "add [[seat]] with a name and at = [x, y, z]");
        else if (!tables.empty() && weights_good && !(total > 0))
            tables.front().fault("weight", "every [[seat]] has the weight 0",
                                 "give at least one seat a weight above 0");
    }

    void read_subs() {
        std::map<std::string, int> taken;
        for (TableReader& table : root_.tables("sub")) {
            PlacedSub sub;
            sub.name = table.text("name").value_or("sub " + std::to_string(s_.subs.size() + 1));
            claim(table, sub.name, taken);
            sub.at = read_point(table, "the sub \"" + sub.name + '"').value_or(Point{});
            sub.gain_db = table.number("gain", Quantity::level, {-60, 40, "between -60 dB and 40 dB"}).value;
            sub.delay = table.number("delay", Quantity::time, {0, 1, "between 0 ms and 1000 ms"}).value;
            const auto polarity = table.text("polarity");
            if (polarity && *polarity != "+" && *polarity != "-")
                table.fault("polarity", "[[sub]] polarity is \"" + *polarity + '"',
                            "write \"+\" or \"-\"");
            sub.polarity = polarity == "-" ? -1 : 1;
            table.close();
            s_.subs.push_back(sub);
        }
    }

    void read_spots() {
        TableReader spots = root_.table("spots", "[spots]");
        SpotRules& r = s_.spots;
        r.step = spots.number("step", Quantity::length, {0.01, 5, "between 1 cm and 5 m"}, r.step).value;
        r.gap = spots.number("gap", Quantity::length, {0, 5, "between 0 m and 5 m"}, r.gap).value;
        r.seat_clearance =
            spots.number("seat_clearance", Quantity::length, length_in_room, r.seat_clearance).value;
        r.tallest = spots.number("tallest", Quantity::length, {0.05, 50, "between 5 cm and 50 m"},
                                 r.tallest).value;
        spots.close();
    }

    void read_keep_outs() {
        for (TableReader& table : root_.tables("keep_out")) {
            KeepOut k;
            k.name = table.text("name").value_or("keep-out " + std::to_string(s_.keep_outs.size() + 1));
            table.require("from", "[\"3.2 m\", \"4.1 m\"]");
            table.require("to", "[\"4.1 m\", \"5.2 m\"]");
            const Limits place{-1e3, 1e3, "a place in the room"};
            const auto from = table.numbers("from", Quantity::length, 2, place);
            const auto to = table.numbers("to", Quantity::length, 2, place);
            table.close();
            if (!from || !to) continue;
            k = {k.name, (*from)[0], (*from)[1], (*to)[0], (*to)[1]};
            if (!(k.x0 < k.x1 && k.y0 < k.y1))
                table.fault("to", "[[keep_out]] \"" + k.name + "\" has no area: `to` must lie beyond `from`",
                            "write the corner nearer to the left and front walls as `from`");
            for (const char* key : {"from", "to"}) {
                const auto& corner = key[0] == 'f' ? *from : *to;
                if (room_known_ && !(corner[0] >= 0 && corner[1] >= 0 &&
                                     corner[0] <= s_.room.width + rounding &&
                                     corner[1] <= s_.room.length + rounding))
                    table.fault(key, "[[keep_out]] \"" + k.name + "\" reaches outside the room",
                                "keep it within the room's width and length");
            }
            s_.keep_outs.push_back(k);
        }
    }

    void read_score() {
        TableReader score = root_.table("score", "[score]");
        ScoreWeights& w = s_.weights;
        const Limits any{0, 1e6, "0 or more"};
        w.spread = score.number("spread", Quantity::plain, any, w.spread).value;
        w.unevenness = score.number("unevenness", Quantity::plain, any, w.unevenness).value;
        w.balance = score.number("balance", Quantity::plain, any, w.balance).value;
        w.level = score.number("level", Quantity::plain, any, w.level).value;
        score.close();
        if (!(w.spread + w.unevenness + w.balance + w.level > 0))
            faults_.add(score.line(), "[score] has only weights of 0",
                        "give at least one of spread, unevenness, balance, level a weight above 0");
    }

    /// A band of two rising frequencies; the fallback where it is missing or wrong.
    Band read_band(TableReader& table, Band fallback, bool& good) {
        const auto band = table.numbers("band", Quantity::frequency, 2, audible);
        good = band.has_value();
        if (!band) return fallback;
        if ((*band)[0] < (*band)[1]) return {(*band)[0], (*band)[1]};
        good = false;
        table.fault("band", table.title() + " band is upside down", "write the lower frequency first");
        return fallback;
    }

    void read_analysis_and_target() {
        TableReader analysis = root_.table("analysis", "[analysis]");
        TableReader target = root_.table("target", "[target]");
        bool band_given = false, target_given = false;
        const Band band = read_band(analysis, {10, 200}, band_given);
        const int per_octave = analysis.whole_number("per_octave", 3, 192).value_or(48);
        const auto listed = analysis.numbers("frequencies", Quantity::frequency, 0, audible);
        analysis.close();
        s_.target.band = read_band(target, s_.target.band, target_given);
        s_.target.slope =
            target.number("slope", Quantity::slope, {-24, 24, "between -24 and 24 dB/oct"}).value;
        s_.target.indifference = target.number("indifference", Quantity::level,
                                               {0, 20, "between 0 dB and 20 dB"}, 0.5).value;
        target.close();

        if (listed) {
            for (std::size_t i = 1; i < listed->size(); ++i)
                if (!((*listed)[i] > (*listed)[i - 1])) {
                    analysis.fault("frequencies", "[analysis] frequencies do not rise",
                                   "write them in rising order, each once");
                    return;
                }
            s_.frequency = *listed;
        } else {
            s_.frequency = logarithmic_grid(band, per_octave);
        }
        if (analysis.has("frequencies") && !listed) return;
        if (analysis.has("band") && !band_given) return;
        fit_target(target, analysis, target_given, listed.has_value(), band);
    }

    /// The target band must be analysed: with a band the whole of it, with a list one point of it.
    void fit_target(TableReader& target, TableReader& analysis, bool given, bool listed, Band band) {
        if (target.has("band") && !given) return;
        Band& wanted = s_.target.band;
        if (!listed && !(band.contains(wanted.low) && band.contains(wanted.high))) {
            if (given) {
                target.fault("band", "[target] band reaches outside the analysed band",
                             "narrow it, or widen [analysis] band");
                return;
            }
            wanted = {std::max(wanted.low, band.low), std::min(wanted.high, band.high)};
            if (wanted.low < wanted.high)
                s_.warnings.push_back("no [target] band given: judged is the part of 20 Hz to 120 Hz "
                                      "that [analysis] band leaves");
        }
        for (double f : s_.frequency)
            if (wanted.contains(f)) return;
        TableReader& at = given ? target : analysis;
        at.fault(given ? "band" : listed ? "frequencies" : "band",
                 "no analysed frequency lies in the [target] band",
                 "set [target] band to lie among the analysed frequencies");
    }

    /// Rooms that no builder has: the mean random-incidence absorption at 63 Hz by area.
    void warn_of_odd_rooms() {
        const Room& r = s_.room;
        const double areas[6] = {r.length * r.height, r.length * r.height, r.width * r.height,
                                 r.width * r.height,  r.width * r.length,  r.width * r.length};
        double absorbed = 0, area = 0;
        for (int i = 0; i < 6; ++i) {
            const auto beta = r.walls[i].admittance(2 * std::numbers::pi * 63, s_.air);
            absorbed += areas[i] * random_incidence_absorption(beta);
            area += areas[i];
        }
        const double mean = absorbed / area;
        std::ostringstream text;
        text.precision(2);
        text << faults_.where(walls_line_) << ": the walls absorb " << mean << " on average at 63 Hz: ";
        if (mean < 0.01)
            s_.warnings.push_back(text.str() + "too live to be true, for even masonry rooms leak more "
                                               "through doors and windows");
        else if (mean > 0.5)
            s_.warnings.push_back(text.str() + "too dead to be true, for ordinary walls absorb far less "
                                               "bass");
    }

    std::string file_;
    FaultList faults_;
    TableReader root_;
    Scenario s_;
    bool room_known_ = false, driver_known_ = false;
    int walls_line_ = 1;
};

}  // namespace

Scenario parse_room_file(const std::string& text, const std::string& name) {
    if (text.find_first_not_of(" \t\r\n") == std::string::npos)
        throw Error(name + ":1", "the file is empty", "write one to start from with `boxroom new FILE`");
    toml::table root;
    try {
        root = toml::parse(std::string_view(text), std::string_view(name));
    } catch (const toml::parse_error& error) {
        const int line = std::max(1, static_cast<int>(error.source().begin.line));
        throw Error(name + ':' + std::to_string(line),
                    "this is not TOML: " + std::string(error.description()),
                    "text and numbers with units stand in \"quotes\", tables in [brackets], each key "
                    "once");
    }
    Scenario scenario = RoomFileReader(root, name).read();
    scenario.source_text = text;
    return scenario;
}

Scenario read_room_file(const std::filesystem::path& path) {
    std::error_code trouble;
    if (std::filesystem::is_directory(path, trouble))
        throw Error(path.string(), "this is a folder, not a room file", "name the file in it");
    std::ifstream file(path, std::ios::binary);
    if (!file)
        throw Error(path.string(), "the room file is missing or cannot be read",
                    "check the name, or write one with `boxroom new FILE`");
    const std::string text{std::istreambuf_iterator<char>(file), {}};
    return parse_room_file(text, path.string());
}

}  // namespace boxroom
