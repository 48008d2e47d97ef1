#include "files/tables.hpp"

#include <fmt/format.h>

#include "files/columns.hpp"
#include "files/csv.hpp"
#include "results/criterion.hpp"

namespace boxroom {

namespace {

void criteria_names(Csv& csv) {
    for (const Criterion& c : criterion_table) csv.field(c.key);
}

void criteria_values(Csv& csv, const Criteria& criteria) {
    for (const Criterion& c : criterion_table) csv.number(criteria.*c.member);
}

}  // namespace

std::string curves_csv(const Listening& heard) {
    const std::size_t seats = heard.seats.size();
    std::vector<CurveColumn<Listening>> curves;
    for (const auto& c : curve_columns)
        if (!(heard.*c.member).empty()) curves.push_back(c);
    const bool phase = !heard.phase_deg.empty();

    Csv csv;
    csv.field("frequency_hz");
    for (const Seat& seat : heard.seats) csv.field("level_db: " + seat.name);
    for (const auto& c : curves) csv.field(c.csv);
    if (phase)
        for (const Seat& seat : heard.seats) csv.field("phase_deg: " + seat.name);
    csv.end_row();
    for (std::size_t f = 0; f < heard.frequency.size(); ++f) {
        csv.number(heard.frequency[f]);
        for (std::size_t s = 0; s < seats; ++s) csv.number(heard.level_db(f, s));
        for (const auto& c : curves) csv.number((heard.*c.member).at(f));
        if (phase)
            for (std::size_t s = 0; s < seats; ++s) csv.number(heard.phase_deg(f, s));
        csv.end_row();
    }
    return csv.take();
}

std::string spots_csv(const Ranking& ranking) {
    const std::size_t subs = ranking.spots.empty() ? 0 : ranking.spots.front().positions.size();
    Csv csv;
    csv.field("rank");
    for (std::size_t k = 0; k < subs; ++k)
        for (const char* axis : {"x", "y", "z"})
            csv.field(subs == 1 ? fmt::format("{}_m", axis) : fmt::format("{}{}_m", axis, k + 1));
    csv.field("facing");
    criteria_names(csv);
    csv.end_row();
    for (const RankedSpot& spot : ranking.spots) {
        csv.field(std::to_string(spot.rank));
        for (std::size_t k = 0; k < subs; ++k)
            for (const double v :
                 {spot.positions.at(k).x, spot.positions[k].y, spot.positions[k].z})
                csv.number(v);
        csv.field(facing_name(spot.facing));
        criteria_values(csv, spot.criteria);
        csv.end_row();
    }
    return csv.take();
}

std::string plan_csv(const Plan& plan) {
    Csv csv;
    for (const BoxColumn& c : box_columns) csv.field(c.csv);
    for (const char* name : {"fits", "choice"}) csv.field(name);
    csv.end_row();
    for (std::size_t i = 0; i < plan.boxes.size(); ++i) {
        const BoxOption& box = plan.boxes[i];
        for (const BoxColumn& c : box_columns) csv.number(c.of(box) * c.csv_factor);
        csv.field(box.fits ? "yes" : "no");
        std::string choice;
        const auto mark = [&](int index, const char* name) {
            if (index == static_cast<int>(i))
                choice += (choice.empty() ? "" : "; ") + std::string(name);
        };
        mark(plan.build, "build");
        mark(plan.in_room_best, "best in the room");
        mark(plan.half_space_best, "best in half space");
        mark(plan.in_room_build, "by balance in the room");
        mark(plan.half_space_build, "by balance in half space");
        mark(plan.textbook, "textbook");
        csv.field(choice);
        csv.end_row();
    }
    return csv.take();
}

}  // namespace boxroom
