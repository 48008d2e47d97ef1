#include "files/crossing_tables.hpp"

#include "files/csv.hpp"

namespace boxroom {

std::string crossing_csv(const Crossing& c, const std::vector<Seat>& seats) {
    Csv csv;
    csv.field("frequency_hz");
    csv.field("subs_average_db");
    if (!c.mains_db.empty()) csv.field("mains_average_db");
    csv.field("sum_average_db");
    for (const Seat& seat : seats) csv.field("level_db: " + seat.name);
    csv.end_row();
    for (std::size_t f = 0; f < c.grid.size(); ++f) {
        csv.number(c.grid[f]);
        csv.number(c.subs_db[f]);
        if (!c.mains_db.empty()) csv.number(c.mains_db[f]);
        csv.number(c.sum_db[f]);
        for (std::size_t s = 0; s < seats.size(); ++s) csv.number(c.level_db(f, s));
        csv.end_row();
    }
    return csv.take();
}

void write_crossing(Hdf5Writer& file, const Crossing& c, std::size_t seats) {
    const hsize_t f = c.grid.size();
    file.numbers("/crossover/subs", c.subs_db, {f},
                 {"dB", "seat average of the subs through the low-pass"});
    if (!c.mains_db.empty())
        file.numbers("/crossover/mains", c.mains_db, {f},
                     {"dB", "seat average of the main loudspeakers through the high-pass"});
    file.numbers("/crossover/sum", c.sum_db, {f}, {"dB", "seat average of both together"});
    file.numbers("/crossover/level", c.level_db.values(), {f, seats},
                 {"dB", "level of both together at each seat"});
}

}  // namespace boxroom
