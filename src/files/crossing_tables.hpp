#pragma once
#include <string>
#include <vector>

#include "files/hdf5_writer.hpp"
#include "results/crossing.hpp"
#include "results/seat.hpp"

namespace boxroom {

/// A row a frequency: seat averages of subs, mains and their sum, then the sum at each seat.
std::string crossing_csv(const Crossing& crossing, const std::vector<Seat>& seats);
/// /crossover/* of listen.h5.
void write_crossing(Hdf5Writer& file, const Crossing& crossing, std::size_t seats);

}  // namespace boxroom
