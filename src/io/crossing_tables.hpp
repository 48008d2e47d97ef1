#pragma once
#include <string>
#include <vector>

#include "io/hdf5_writer.hpp"
#include "placement/scenario.hpp"
#include "results/crossing.hpp"

namespace boxroom {

/// A row a frequency: seat averages of subs, mains and their sum, then the sum at each seat.
std::string crossing_csv(const Crossing& crossing, const std::vector<Seat>& seats);
/// /crossover/* of listen.h5.
void write_crossing(Hdf5Writer& file, const Crossing& crossing, std::size_t seats);
/// <figure> of the same; `subs` says which they are ("2 boxes").
std::string crossing_chart(const Crossing& crossing, const std::string& subs, const Target& target,
                           bool absolute);

}  // namespace boxroom
