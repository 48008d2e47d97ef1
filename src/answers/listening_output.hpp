#pragma once
#include "answers/inquiry.hpp"
#include "results/listening.hpp"

namespace boxroom {

/// The keys of `listen` that a response has by itself: frequencies, seats, averages, criteria.
nlohmann::ordered_json listening_json(const Listening& heard);
std::string listening_text(const Listening& heard, const ClosedBox& box, Units units);
/// The loudest clean level, where it is known.
void add_loudest(nlohmann::ordered_json& json, const Listening& heard);
/// A warning for each limit that the file does not give.
void warn_of_unknown_limits(Inquiry& inquiry);

}  // namespace boxroom
