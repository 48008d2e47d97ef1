#pragma once
#include <span>
#include <vector>

#include "measured/heard_curve.hpp"
#include "page/page_inquiry.hpp"

namespace boxroom {

/// The recordings of the room file whose tables came with the request, by the names of their files,
/// on these frequencies; of the others it is said where they are.
std::vector<HeardCurve> heard_tables(PageInquiry& inquiry, const nlohmann::ordered_json& request,
                                     std::span<const double> frequency);

/// What those recordings make of the room: the document and text of `fit`, "words", the tables
/// "misfits" and "parameters" as markup, and "files": fitted.toml, fit.html and a picture of each
/// recording.
nlohmann::ordered_json page_fit(PageInquiry& inquiry, const nlohmann::ordered_json& request);

/// {"seconds"}: about how long page_fit() will take on this machine, from a few looks at the room;
/// null, which is minutes, where the room is no rectangle.
nlohmann::ordered_json page_fit_time(PageInquiry& inquiry, const nlohmann::ordered_json& request);

}  // namespace boxroom
