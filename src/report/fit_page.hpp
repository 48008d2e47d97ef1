#pragma once
#include <string>
#include <vector>

#include "measured/room_fit.hpp"
#include "report/curve_chart.hpp"

namespace boxroom {

/// The misfit before and after at the seats, at left-out seats too; what was free, with 90 %
/// intervals: markup.
std::string fit_misfit_tables(const RoomFit& fit);
std::string fit_parameter_table(const RoomFit& fit);
/// Gain, delay and sign of every recording: markup.
std::string fit_recording_table(const RoomFit& fit);

/// Of the fit's recording `number`: measured, predicted before and after, with the doubt as a band.
CurveChart fit_chart(const RoomFit& fit, const HeardCurve& curve, std::size_t number);

/// All of it as a page that opens offline; `room` is its title, `sentences` stand at the top.
std::string fit_page(const RoomFit& fit, const std::vector<HeardCurve>& heard,
                     const std::string& room, const std::vector<std::string>& sentences,
                     const std::string& version);

}  // namespace boxroom
