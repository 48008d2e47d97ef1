#pragma once
#include <string>
#include <vector>

#include "report/report.hpp"

namespace boxroom {

/// The room from above, to scale: walls, keep-outs, seats, the box and the way it looks, and what
/// it is worth there. With `in.live` also what the page's script needs to move them about: handles,
/// sliders (hidden until the script is there) and the data.
std::string floor_section(const ReportInput& in);
/// Reset, units and what else stands at the top of a live page; empty otherwise.
std::string unit_switch(const ReportInput& in);

/// A length or volume as HTML: in the report's units, on a live page in both, of which the page
/// shows one.
std::string length_html(double metres, const ReportInput& in);
std::string volume_html(double cubic_metres, const ReportInput& in);
/// Both wordings of a text likewise, escaped.
std::string either_html(const std::string& metric, const std::string& imperial,
                        const ReportInput& in);

}  // namespace boxroom
