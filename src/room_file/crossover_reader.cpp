#include "room_file/crossover_reader.hpp"

#include "room_file/place_reader.hpp"

namespace boxroom {

std::optional<Crossover> read_crossover(TableReader& file) {
    TableReader table = file.table("crossover", "[crossover]");
    if (!table.present()) return std::nullopt;
    Crossover crossover;
    crossover.frequency = table.required("frequency", Quantity::frequency, audible).value;
    const auto type = table.text("type");
    if (type == "butterworth")
        crossover.kind = Crossover::Kind::butterworth;
    else if (type && *type != "linkwitz-riley")
        table.fault("type", "[crossover] type is \"" + *type + '"',
                    "write \"linkwitz-riley\" or \"butterworth\"");
    crossover.order = table.whole_number("order", 2, 4).value_or(4);
    if (crossover.order == 3)
        table.fault("order", "[crossover] order is 3", "write order = 2 or order = 4");
    table.close();
    return crossover;
}

std::vector<MainSpeaker> read_mains(TableReader& file, const ReadContext& context) {
    std::vector<MainSpeaker> mains;
    TakenNames taken;
    for (TableReader& table : file.tables("main")) {
        MainSpeaker speaker;
        speaker.name = table.text("name").value_or("main " + std::to_string(mains.size() + 1));
        claim_name(table, speaker.name, taken);
        speaker.at = read_point(table, "the main loudspeaker \"" + speaker.name + '"', context)
                         .value_or(Point{});
        read_dials(table, speaker);
        speaker.sensitivity =
            table.optional("sensitivity", Quantity::level, {60, 120, "between 60 dB and 120 dB"});
        if (speaker.sensitivity && context.driver_known && !context.driver_absolute)
            table.fault("sensitivity",
                        "[[main]] sensitivity is absolute, but the sub's levels are not",
                        "give sd, re and qes (or bl, mms) in [driver], or leave sensitivity out: "
                        "then it is as loud as a sub");
        speaker.low_end = table.optional("low_end", Quantity::frequency, audible);
        speaker.low_end_order = table.whole_number("low_end_order", 2, 4).value_or(2);
        if (speaker.low_end_order == 3)
            table.fault("low_end_order", "[[main]] low_end_order is 3",
                        "write 2 (closed box) or 4 (vented box)");
        speaker.high_pass = table.yes_or_no("high_pass").value_or(true);
        table.close();
        mains.push_back(speaker);
    }
    return mains;
}

}  // namespace boxroom
