#pragma once
#include "answers/inquiry.hpp"
#include "results/crossing.hpp"

namespace boxroom {

/// Whether the file says anything of a crossover or of main loudspeakers.
bool has_crossing(const Scenario& scenario);
/// `crossover` of the JSON document, and two lines for people.
void add_crossing(Answer& answer, const Crossing& crossing, const std::vector<Seat>& seats);
/// crossover.csv
void write_crossing_csv(Inquiry& inquiry, const Crossing& crossing, const std::vector<Seat>& seats);

}  // namespace boxroom
