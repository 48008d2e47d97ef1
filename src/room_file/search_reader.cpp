#include "room_file/search_reader.hpp"

#include <algorithm>
#include <cmath>

namespace boxroom {

void read_search(TableReader& file, Wanted& wanted) {
    TableReader search = file.table("search", "[search]");
    const Limits count{1, 4, "a whole number from 1 to 4"};
    if (const auto subs = search.numbers("subs", Quantity::plain, 0, count)) {
        for (const double value : *subs) {
            if (value != std::floor(value)) {
                search.fault("subs", "[search] subs holds a number that is not whole",
                             "write for example subs = [1, 2, 4]");
                break;
            }
            wanted.sub_counts.push_back(static_cast<int>(value));
        }
        std::ranges::sort(wanted.sub_counts);
        // No std::ranges::unique: clang 14, which fuzzes this, cannot read it in GCC 12's library.
        wanted.sub_counts.erase(std::unique(wanted.sub_counts.begin(), wanted.sub_counts.end()),
                                wanted.sub_counts.end());
    }
    if (const auto volumes = search.numbers("volumes", Quantity::volume, 0, net_volume))
        wanted.set_volumes = *volumes;
    std::ranges::sort(wanted.set_volumes);
    if (std::ranges::adjacent_find(wanted.set_volumes) != wanted.set_volumes.end())
        search.fault("volumes", "[search] volumes names a volume twice", "write each once");
    search.close();
}

SettingSteps read_settings(TableReader& file) {
    TableReader settings = file.table("settings", "[settings]");
    SettingSteps steps;
    steps.gain =
        settings
            .number("gain_step", Quantity::level, {0.01, 6, "between 0.01 dB and 6 dB"}, steps.gain)
            .value;
    steps.delay = settings
                      .number("delay_step", Quantity::time,
                              {1e-5, 0.01, "between 0.01 ms and 10 ms"}, steps.delay)
                      .value;
    steps.lowest_gain = settings
                            .number("lowest_gain", Quantity::level,
                                    {-60, 0, "between -60 dB and 0 dB"}, steps.lowest_gain)
                            .value;
    steps.longest_delay = settings
                              .number("longest_delay", Quantity::time,
                                      {0, 0.1, "between 0 ms and 100 ms"}, steps.longest_delay)
                              .value;
    settings.close();
    return steps;
}

Uncertainty read_robustness(TableReader& file) {
    TableReader robustness = file.table("robustness", "[robustness]");
    Uncertainty u;
    u.draws = robustness.whole_number("draws", 0, 100000).value_or(u.draws);
    u.seed = static_cast<std::uint64_t>(robustness.whole_number("seed", 0, 1000000000).value_or(1));
    const Limits place{0, 0.5, "between 0 m and 0.5 m"};
    u.seat = robustness.number("seat", Quantity::length, place, u.seat).value;
    u.sub = robustness.number("sub", Quantity::length, place, u.sub).value;
    u.room = robustness.number("room", Quantity::length, {0, 0.2, "between 0 m and 0.2 m"}, u.room)
                 .value;
    u.wall =
        robustness.number("wall", Quantity::plain, {1, 10, "a factor between 1 and 10"}, u.wall)
            .value;
    u.driver =
        robustness
            .number("driver", Quantity::plain, {0, 0.5, "a share between 0 and 0.5"}, u.driver)
            .value;
    robustness.close();
    return u;
}

}  // namespace boxroom
