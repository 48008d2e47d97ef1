#include "survey/survey_file.hpp"

#include <algorithm>
#include <functional>
#include <sstream>

#include "room_file/box_reader.hpp"
#include "room_file/judgement_reader.hpp"
#include "room_file/place_reader.hpp"
#include "room_file/room_reader.hpp"
#include "room_file/search_reader.hpp"
#include "room_file/toml_file.hpp"
#include "solvers/constructions.hpp"
#include "survey/distribution_reader.hpp"
#include "survey/drawn_room.hpp"

namespace boxroom {
namespace {

constexpr TomlKind kind{"survey file", "begin with a copy of rooms/survey.toml"};

const Limits side{1, 50, "between 1 m and 50 m"};
const Limits share{0, 1, "a share between 0 and 1"};

void require_names(TableReader& table, const std::string& key, const NamedChoice& choice,
                   const std::function<void(const std::string&)>& find) {
    for (const std::string& name : choice.names)
        table.faults().attempt(table.line(key), table.title() + ' ' + key, [&] { find(name); });
}

void read_room(TableReader& file, Survey& survey) {
    TableReader room = file.required_table("room", "how width, length and height are spread");
    survey.width = read_distribution(room, "width", Quantity::length, side);
    survey.length = read_distribution(room, "length", Quantity::length, side);
    survey.height = read_distribution(room, "height", Quantity::length, side);
    survey.width_with_length = room.number("width_with_length", Quantity::plain,
                                           {-0.99, 0.99, "a correlation within -0.99 and 0.99"})
                                   .value;
    if (room.has("contents")) survey.contents = read_names(room, "contents");
    require_names(room, "contents", survey.contents,
                  [](const std::string& name) { find_named_contents(name); });
    survey.l_shaped = room.number("l_shaped", Quantity::plain, share).value;
    const Limits notch{0.1, 0.8, "a share between 0.1 and 0.8"};
    survey.notch_width = read_distribution(room, "notch_width", Quantity::plain, notch, 0.4);
    survey.notch_length = read_distribution(room, "notch_length", Quantity::plain, notch, 0.4);
    room.close();
}

SurfaceKind read_surface(TableReader& house, const std::string& key) {
    SurfaceKind surface;
    const toml::node* node = house.require(key, "\"brick, plastered\"");
    if (!node) return surface;
    if (const toml::table* table = node->as_table(); table && table->contains("absorption")) {
        TableReader own(table, house.title() + ' ' + key, line_of(*node), house.faults());
        surface.absorption = read_distribution(own, "absorption", Quantity::plain,
                                               {1e-3, 0.95, "between 0.001 and 0.95"});
        own.close();
        return surface;
    }
    surface.construction = read_names(house, key);
    require_names(house, key, surface.construction,
                  [](const std::string& name) { find_construction(name); });
    return surface;
}

std::optional<PartKind> read_part(TableReader& house, const std::string& key) {
    if (!house.has(key)) return std::nullopt;
    TableReader table = house.table(key, house.title() + ' ' + key);
    if (!table.present()) return std::nullopt;
    PartKind part;
    part.construction = table.required_text("made_of", "window glass, double").value_or("");
    if (!part.construction.empty())
        table.faults().attempt(table.line("made_of"), table.title(),
                               [&] { find_construction(part.construction); });
    part.area =
        read_distribution(table, "area", Quantity::area, {0.1, 50, "between 0.1 and 50 m2"});
    table.close();
    return part;
}

/// [[houses]] or [[drivers]], each with a name of its own and a weight; `more` reads the rest.
template <typename Kind>
std::vector<Kind> read_kinds(TableReader& file, const std::string& key, const char* example,
                             const char* mend,
                             const std::function<void(TableReader&, Kind&)>& more) {
    if (!file.has(key)) file.faults().add(1, "the file has no [[" + key + "]]", mend);
    std::vector<Kind> kinds;
    TakenNames taken;
    double sum = 0;
    for (TableReader& table : file.tables(key)) {
        Kind one;
        one.name = table.required_text("name", example).value_or("");
        if (!one.name.empty()) claim_name(table, one.name, taken);
        one.weight = table.number("weight", Quantity::plain, {0, 1e6, "0 or more"}, 1).value;
        more(table, one);
        table.close();
        sum += one.weight;
        kinds.push_back(std::move(one));
    }
    if (!kinds.empty() && !(sum > 0))
        file.fault(key, "every [[" + key + "]] has the weight 0", "give one of them more than 0");
    return kinds;
}

void read_house(TableReader& table, HouseKind& house) {
    house.walls = read_surface(table, "walls");
    house.floor = read_surface(table, "floor");
    house.ceiling = read_surface(table, "ceiling");
    for (int wall = left_wall; wall <= back_wall; ++wall)
        if (table.has(wall_names[wall])) house.wall[wall] = read_surface(table, wall_names[wall]);
    house.window = read_part(table, "window");
    house.door = read_part(table, "door");
}

void read_driver(TableReader& table, DriverKind& driver) {
    driver.fs = read_distribution(table, "fs", Quantity::frequency, audible);
    driver.qts = read_distribution(table, "qts", Quantity::plain, {0.01, 2, "between 0.01 and 2"});
    driver.vas =
        read_distribution(table, "vas", Quantity::volume, {1e-4, 10, "between 0.1 L and 10 000 L"});
}

void read_seats(TableReader& file, SeatRows& seats) {
    TableReader table =
        file.required_table("seats", "per_row, from_back and what else is known of the sofas");
    seats.line = table.line();
    const Limits near{0.2, 5, "between 0.2 m and 5 m"};
    seats.rows = read_counts(table, "rows", 1, 4, 1);
    seats.per_row = read_counts(table, "per_row", 1, 8, 3);
    seats.spacing = read_distribution(table, "spacing", Quantity::length, near, 0.65);
    seats.from_back = read_distribution(table, "from_back", Quantity::length,
                                        {0.2, 50, "between 0.2 m and 50 m"});
    seats.row_distance = read_distribution(table, "row_distance", Quantity::length, near, 1.1);
    seats.height = read_distribution(table, "height", Quantity::length,
                                     {0.3, 3, "between 0.3 m and 3 m"}, 1.1);
    seats.rise =
        read_distribution(table, "rise", Quantity::length, {0, 2, "between 0 m and 2 m"}, 0.0);
    seats.aside = read_distribution(table, "aside", Quantity::length,
                                    {-20, 20, "between -20 m and 20 m"}, 0.0);
    table.close();
}

/// What is alike in every room: read as a room file's to find its faults, and kept as it stands.
void read_tables(TableReader& file, const toml::table& root, Survey& survey) {
    std::vector<std::string> warnings;
    Room room;
    Design design;
    const Air air = read_air(file);
    const ReadContext context{file.faults(), warnings, air, room, design.driver, design.amplifier};
    read_box(file, context, design);
    read_spots(file);
    read_score(file, context);
    read_settings(file);
    read_target(file, read_analysis(file), context);
    Wanted wanted;
    read_search(file, wanted);
    survey.counts = wanted.sub_counts;
    if (survey.counts.empty()) survey.counts = {1, 2, 3, 4};
    if (survey.counts.front() != 1)
        file.fault("search", "[search] subs leaves out a single sub",
                   "begin with 1: what further subs bring is told against it");
    const double highest = design.sweep.value_or(QtcSweep{}).high;
    for (std::size_t n = 0; n < survey.drivers.size() && !design.volume_sweep; ++n)
        if (!(1.05 * survey.drivers[n].qts.greatest() < highest))
            file.fault(
                "driver",
                "[[driver]] \"" + survey.drivers[n].name +
                    "\" may have a Qts that no box of the sweep can have, for boxes raise it",
                "keep it well below the sweep's highest Qtc, with `between`");
    if (!design.volume_sweep) survey.sweep = design.sweep.value_or(QtcSweep{});
    std::ostringstream box;
    if (const toml::table* table = root.get_as<toml::table>("box")) {
        toml::table keys = *table;
        if (survey.sweep) keys.erase("sweep");
        box << toml::toml_formatter(keys) << '\n';
    }
    survey.box = box.str();
    toml::table kept;
    for (const char* key : {"air", "spots", "score", "settings", "analysis", "target"})
        if (const toml::node* node = root.get(key); node && node->is_table())
            kept.insert(key, *node->as_table());
    std::ostringstream text;
    text << toml::toml_formatter(kept) << '\n';
    survey.tables = text.str();
}

}  // namespace

Survey parse_survey_file(const std::string& text, const std::string& name) {
    const toml::table root = parse_toml(text, name, kind);
    FaultList faults(name);
    TableReader file(&root, "the file", 1, faults);
    Survey survey;
    survey.name = name, survey.source_text = text;
    survey.title = file.text("title").value_or("");
    if (!file.has("rooms"))
        faults.add(1, "the file does not say how many rooms", "add for example rooms = 1000");
    survey.rooms = file.whole_number("rooms", 1, 10'000'000).value_or(0);
    survey.seed =
        static_cast<std::uint64_t>(file.whole_number("seed", 0, 1'000'000'000).value_or(1));
    read_room(file, survey);
    survey.houses = read_kinds<HouseKind>(
        file, "house", "masonry", "add [[house]] with name, walls, floor and ceiling", read_house);
    survey.drivers = read_kinds<DriverKind>(file, "driver", "ten inch",
                                            "add [[driver]] with fs, qts and vas", read_driver);
    read_seats(file, survey.seats);
    read_tables(file, root, survey);
    file.close();
    faults.throw_if_any();
    constexpr long long tried = 100;  // a fault of the file shows in these
    faults.attempt(survey.seats.line, "", [&] {
        for (long long n = 0; n < std::min(tried, survey.rooms); ++n) draw_room(survey, n);
    });
    faults.throw_if_any();
    return survey;
}

Survey read_survey_file(const std::filesystem::path& path) {
    return parse_survey_file(read_toml_text(path, kind), path.string());
}

}  // namespace boxroom
