#pragma once
#include <map>
#include <optional>
#include <string>

#include "room_file/read_context.hpp"

namespace boxroom {

/// The names of one kind of thing, with their lines.
using TakenNames = std::map<std::string, int>;

/// Notes a name; a second thing of that name is a fault.
void claim_name(TableReader& table, const std::string& name, TakenNames& taken);
/// `at` = three lengths within the room; `who` stands in messages. None where they are not.
std::optional<Point> read_point(TableReader& table, const std::string& who,
                                const ReadContext& context);
/// `polarity`, 1 or -1.
int read_polarity(TableReader& table);
/// Gain, delay and polarity, of a sub or a main loudspeaker.
template <typename Speaker>
void read_dials(TableReader& table, Speaker& speaker) {
    speaker.dial.gain_db =
        table.number("gain", Quantity::level, {-60, 40, "between -60 dB and 40 dB"}).value;
    speaker.dial.delay =
        table.number("delay", Quantity::time, {0, 1, "between 0 ms and 1000 ms"}).value;
    speaker.dial.polarity = read_polarity(table);
}

/// [[seat]]
std::vector<Seat> read_seats(TableReader& file, const ReadContext& context);
/// [[sub]]; of one placed by its box `at` is not known yet (stand_boxes).
std::vector<PlacedSub> read_subs(TableReader& file, const ReadContext& context,
                                 std::vector<BoxPlace>& places);
/// Finds the cones of the subs that the file places by their boxes; faults where a box of [box]
/// volume (or of the textbook's Qtc) cannot be reckoned.
void stand_boxes(Scenario& scenario);
/// [spots]
SpotRules read_spots(TableReader& file);
/// [[keep_out]], added to those that blocks have left.
void read_keep_outs(TableReader& file, const ReadContext& context, std::vector<KeepOut>& keep_outs);

}  // namespace boxroom
