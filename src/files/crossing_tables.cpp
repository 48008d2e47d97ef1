#include "files/crossing_tables.hpp"

#include "files/columns.hpp"
#include "files/csv.hpp"

namespace boxroom {

std::string crossing_csv(const Crossing& c, const std::vector<Seat>& seats) {
    Csv csv;
    csv.field("frequency_hz");
    for (const auto& column : crossing_columns)
        if (!(c.*column.member).empty()) csv.field(column.csv);
    for (const Seat& seat : seats) csv.field("level_db: " + seat.name);
    csv.end_row();
    for (std::size_t f = 0; f < c.grid.size(); ++f) {
        csv.number(c.grid[f]);
        for (const auto& column : crossing_columns)
            if (!(c.*column.member).empty()) csv.number((c.*column.member).at(f));
        for (std::size_t s = 0; s < seats.size(); ++s) csv.number(c.level_db(f, s));
        csv.end_row();
    }
    return csv.take();
}

void write_crossing(Hdf5Writer& file, const Crossing& c, std::size_t seats) {
    const hsize_t f = c.grid.size();
    for (const auto& column : crossing_columns)
        if (!(c.*column.member).empty())
            file.numbers(std::string("/crossover/") + column.dataset, c.*column.member, {f},
                         {"dB", column.description});
    file.numbers("/crossover/level", c.level_db.values(), {f, seats},
                 {"dB", "level of both together at each seat"});
}

}  // namespace boxroom
