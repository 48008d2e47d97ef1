#include "survey/survey_rows.hpp"

#include <fmt/format.h>

#ifdef _OPENMP
#include <omp.h>
#endif

#include <algorithm>
#include <array>
#include <functional>

#include "base/error.hpp"
#include "placement/box_sweep.hpp"
#include "placement/floor_need.hpp"
#include "room_file/room_file.hpp"
#include "solvers/solved_rooms.hpp"
#include "survey/room_text.hpp"

namespace boxroom {
namespace {

struct OneRoom {
    const DrawnRoom& drawn;
    const JudgedRoom& judged;
};

/// One column: what it is called, and what it holds.
struct Field {
    std::string name, units, description;
    std::function<double(const OneRoom&)> of;
};
using Fields = std::vector<Field>;

double extent(const DrawnRoom& room) {
    const double floor =
        room.outline.empty() ? room.width * room.length : outline_area(room.outline);
    return floor * room.height;
}

void add_drawn(Fields& fields) {
    const auto add = [&](const char* name, const char* units, const char* description,
                         double (*of)(const DrawnRoom&)) {
        fields.push_back(
            {name, units, description, [of](const OneRoom& r) { return of(r.drawn); }});
    };
    add("room", "1", "number of the room, from 0", [](const auto& r) { return double(r.number); });
    add("width", "m", "from the left to the right wall", [](const auto& r) { return r.width; });
    add("length", "m", "from the front to the back wall", [](const auto& r) { return r.length; });
    add("height", "m", "from floor to ceiling", [](const auto& r) { return r.height; });
    add("room_volume", "m3", "air in the room", [](const auto& r) { return extent(r); });
    add("l_shaped", "1", "1: a corner is missing",
        [](const auto& r) { return double(!r.outline.empty()); });
    add("house", "1", "how it is built: index into /house_names",
        [](const auto& r) { return double(r.house); });
    add("contents", "1", "what stands in it: index into /contents_names",
        [](const auto& r) { return double(r.contents_kind); });
    add("rows", "1", "rows of seats", [](const auto& r) { return double(r.rows); });
    add("per_row", "1", "seats in a row", [](const auto& r) { return double(r.per_row); });
    add("redrawn", "1", "times the seats were drawn anew until they fitted",
        [](const auto& r) { return double(r.redrawn); });
    add("driver", "1", "index into /driver_names", [](const auto& r) { return double(r.driver); });
    add("fs", "Hz", "resonance of the driver in free air", [](const auto& r) { return r.fs; });
    add("qts", "1", "total Q of the driver", [](const auto& r) { return r.qts; });
    add("vas", "m3", "air as compliant as the driver", [](const auto& r) { return r.vas; });
}

void add_box(Fields& fields, const std::string& name, const std::string& what,
             BoxFound JudgedRoom::*box, bool equalised = true) {
    const auto add = [&](const char* part, const char* units, const std::string& description,
                         double BoxFound::*member) {
        fields.push_back({name + "_" + part, units, description + " of " + what,
                          [box, member](const OneRoom& r) { return r.judged.*box.*member; }});
    };
    add("qtc", "1", "total Q", &BoxFound::qtc);
    add("volume", "m3", "net volume", &BoxFound::volume);
    add("balance", "dB", "balance in the room at the single sub's place", &BoxFound::balance_db);
    if (!equalised) return;
    add("equalised_balance", "dB", "the same behind an equaliser", &BoxFound::equalised_balance_db);
    add("equalised_unevenness", "dB", "unevenness there behind an equaliser",
        &BoxFound::equalised_unevenness_db);
}

void add_place(Fields& fields, const std::string& name, std::size_t set, std::size_t sub) {
    const auto at = [=](double Point::*axis) {
        return [=](const OneRoom& r) {
            const auto& places = r.judged.sets[set].places;
            return sub < places.size() ? places[sub].*axis : not_known;
        };
    };
    const std::string which = name + "_place_" + std::to_string(sub + 1);
    fields.push_back({which + "_x", "m", "centre of the box on the floor", at(&Point::x)});
    fields.push_back({which + "_y", "m", "centre of the box on the floor", at(&Point::y)});
}

void add_set(Fields& fields, std::size_t set) {
    const std::string name = std::array{"one_sub", "two_subs", "three_subs", "four_subs"}[set];
    const auto add = [&](const char* part, const char* units, const std::string& description,
                         const std::function<double(const SetFound&)>& of) {
        fields.push_back({name + "_" + part, units, description, [=](const OneRoom& r) {
                              const SetFound& found = r.judged.sets[set];
                              return found.known ? of(found) : not_known;
                          }});
    };
    const auto criteria = [&](const char* part, const char* units, const char* description,
                              double Criteria::*member) {
        add(part, units, description, [=](const SetFound& s) { return s.criteria.*member; });
    };
    criteria("spread", "dB", "seat-to-seat spread of the best set", &Criteria::spread_db);
    criteria("unevenness", "dB", "unevenness of the best set", &Criteria::unevenness_db);
    criteria("balance", "dB", "balance of the best set", &Criteria::balance_db);
    criteria("level", "dB", "mean level of the best set, re the passband at 1 m in half space",
             &Criteria::level_db);
    criteria("reach", "Hz", "reach of the best set", &Criteria::reach_hz);
    add("equalised_unevenness", "dB", "unevenness behind the shared equaliser",
        [](const SetFound& s) { return s.equalised.unevenness_db; });
    add("in_corners", "1", "how many of them stand in corners",
        [](const SetFound& s) { return double(s.in_corners); });
    add("at_middles", "1", "how many stand at the middle of a wall",
        [](const SetFound& s) { return double(s.at_middles); });
    if (set > 0)
        add("opposite_middles", "1", "1: two stand at the middles of opposite walls",
            [](const SetFound& s) { return double(s.opposite_middles); });
    for (std::size_t sub = 0; sub <= set; ++sub) add_place(fields, name, set, sub);
}

void add_judged(Fields& fields) {
    const auto add = [&](const char* name, const char* units, const char* description,
                         double (*of)(const JudgedRoom&)) {
        fields.push_back(
            {name, units, description, [of](const OneRoom& r) { return of(r.judged); }});
    };
    add("planned", "1", "1: a box fits somewhere; else nothing more is known",
        [](const auto& r) { return double(r.planned); });
    add("absorption_50_hz", "1", "mean random-incidence absorption of the surfaces at 50 Hz",
        [](const auto& r) { return r.absorption_50_hz; });
    add_box(fields, "best", "the box with the best balance in the room", &JudgedRoom::best, false);
    add_box(fields, "build", "the box that plan would have built", &JudgedRoom::build);
    add_box(fields, "textbook", "the sweep's box nearest to Qtc 0.707", &JudgedRoom::textbook);
    add_box(fields, "half_space_best", "the box with the best balance on an endless floor",
            &JudgedRoom::half_space_best, false);
    add_box(fields, "half_space_build", "the box by the same rule on an endless floor",
            &JudgedRoom::half_space_build, false);
    add_box(fields, "largest", "the largest box of the sweep", &JudgedRoom::largest);
    add_box(fields, "smallest", "the smallest box of the sweep", &JudgedRoom::smallest);
    for (std::size_t set = 0; set < 4; ++set) add_set(fields, set);
    add("corner_loss", "1", "score of the best corner less that of the best spot of all",
        [](const auto& r) { return r.corner_loss; });
    add("two_middles_spread", "dB", "spread of two subs at middles of opposite walls, subs alike",
        [](const auto& r) { return r.two_middles_spread_db; });
    add("four_middles_spread", "dB", "spread of four subs at the middles of the walls, subs alike",
        [](const auto& r) { return r.four_middles_spread_db; });
    add("four_corners_spread", "dB", "spread of four subs in the corners, subs alike",
        [](const auto& r) { return r.four_corners_spread_db; });
}

/// While it lives, what this thread calls runs on it alone: sums that are shared out among threads
/// differ in the last digits with their number.
class OnOneThread {
  public:
    OnOneThread() {
#ifdef _OPENMP
        before_ = omp_get_max_threads();
        omp_set_num_threads(1);
#endif
    }
    OnOneThread(const OnOneThread&) = delete;
    OnOneThread& operator=(const OnOneThread&) = delete;
    ~OnOneThread() {
#ifdef _OPENMP
        omp_set_num_threads(before_);
#endif
    }

  private:
    int before_ = 1;
};

/// What the search of this floor needs at once [bytes]; 0 where no box fits, which is a finding.
double need_of(const Scenario& scenario, const std::vector<int>& counts) {
    const FloorSearch search =
        counts == std::vector{1} ? FloorSearch::boxes : FloorSearch::many_subs;
    try {
        const Driver driver = complete_driver(scenario.design.driver, scenario.acoustics.air);
        return floor_need(scenario, boxes_to_try(scenario, driver).back(), search).bytes;
    } catch (const Error&) {
        return 0;
    }
}

void require_memory(const Survey& survey, long long number, const Scenario& scenario) {
    const double need = need_of(scenario, survey.counts);
    if (need <= survey.room_memory) return;
    throw Error(survey.name + ", room " + std::to_string(number),
                fmt::format("spots every {:.3g} cm take {:.1f} GB of memory; each thread may take "
                            "{:.1f} GB",
                            100 * scenario.wanted.spots.step, need / 1e9, survey.room_memory / 1e9),
                "take wider steps, fewer --threads, or a larger --memory, which they share");
}

const Fields& all_fields() {
    static const Fields fields = [] {
        Fields made;
        add_drawn(made);
        add_judged(made);
        return made;
    }();
    return fields;
}

}  // namespace

SurveyTable empty_table(const Survey& survey) {
    SurveyTable table;
    for (const Field& field : all_fields())
        table.columns.push_back({field.name, field.units, field.description, {}});
    for (const HouseKind& house : survey.houses) table.houses.push_back(house.name);
    for (const DriverKind& driver : survey.drivers) table.drivers.push_back(driver.name);
    table.contents = survey.contents.names;
    if (table.contents.empty()) table.contents = {"bare"};
    table.input_text = survey.source_text;
    table.rooms = survey.rooms;
    return table;
}

SurveyRow row_of(const DrawnRoom& drawn, const JudgedRoom& judged) {
    SurveyRow row;
    for (const Field& field : all_fields()) row.push_back(field.of({drawn, judged}));
    return row;
}

SurveyRow survey_room(const Survey& survey, long long number) {
    const OnOneThread alone;
    const DrawnRoom drawn = draw_room(survey, number);
    Scenario scenario =
        parse_room_file(room_text(survey, drawn), survey.name + ", room " + std::to_string(number));
    require_memory(survey, number, scenario);
    // As a command has it, but kept for this room alone: memory stays flat.
    scenario.acoustics.solver.solved = std::make_shared<SolvedRooms>(
        RoomStore{}, places_of(scenario.seats), scenario.acoustics.frequency.back());
    return row_of(drawn, judge_room(scenario, survey.counts));
}

void add_rows(SurveyTable& table, const std::vector<SurveyRow>& rows) {
    if (rows.empty()) return;
    const std::size_t before = table.rows();
    for (std::size_t c = 0; c < table.columns.size(); ++c) {
        auto& value = table.columns[c].value;
        value.reserve(before + rows.size());
        for (const SurveyRow& row : rows) value.push_back(row[c]);
    }
    std::vector<std::size_t> order(table.rows());
    for (std::size_t n = 0; n < order.size(); ++n) order[n] = n;
    const std::vector<double> number = table.columns.front().value;
    std::ranges::sort(order, {}, [&](std::size_t n) { return number[n]; });
    for (SurveyColumn& column : table.columns) {
        std::vector<double> sorted;
        sorted.reserve(order.size());
        for (const std::size_t n : order) sorted.push_back(column.value[n]);
        column.value = std::move(sorted);
    }
}

}  // namespace boxroom
