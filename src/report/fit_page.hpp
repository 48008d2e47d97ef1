#pragma once
#include <string>
#include <vector>

#include "measured/room_fit.hpp"

namespace boxroom {

/// What a fit found, as a page that opens offline: the misfit before and after, at left-out seats
/// too; measured, predicted before and after, with the doubt as a band, a chart a recording; the
/// parameters. `sentences` stand at the top.
std::string fit_page(const RoomFit& fit, const std::vector<HeardCurve>& heard,
                     const std::string& title, const std::vector<std::string>& sentences,
                     const std::string& version);

}  // namespace boxroom
