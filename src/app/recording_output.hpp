#pragma once
#include <span>
#include <vector>

#include "app/session.hpp"
#include "measured/heard_curve.hpp"

namespace boxroom {

/// Every [[recording]] of the session's file, read and put on these frequencies; notes become
/// warnings, the files inputs. None where the file names none.
std::vector<HeardCurve> heard_recordings(Session& session, std::span<const double> frequency);

/// Beside what was predicted for them: `recordings` and `measured_spots` of the document, a table
/// for people, and measured.csv. Nothing where there are none.
void add_recordings(Answer& answer, Session& session, const ClosedBox& box,
                    const std::vector<HeardCurve>& heard);

}  // namespace boxroom
