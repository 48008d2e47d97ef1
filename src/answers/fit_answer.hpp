#pragma once
#include <filesystem>
#include <string>
#include <vector>

#include "answers/inquiry.hpp"
#include "measured/recordings.hpp"
#include "measured/room_fit.hpp"

namespace boxroom {

/// What one box would be recommended: in words, and where. No subs where nothing can be planned.
struct Advice {
    std::string words;
    std::vector<PlacedSub> subs;
};

/// Whether a box that stands should move to the place that the corrected room recommends: both
/// heard there, in the box that stands. It is worth it where the score is less by the target's
/// indifference or more.
struct Moving {
    double far = 0;      ///< from the place recommended before to the one recommended now [m]
    std::string name;    ///< of the box that stands: the file's one sub, else empty
    bool heard = false;  ///< false: the place stays, or nothing is recommended
    Criteria here, there;
    bool worth_it = false;
};

/// What recordings make of a room file.
struct Fitted {
    std::vector<HeardCurve> heard;
    RoomFit fit;
    std::string file;  ///< the file's text with what was found (room_file/fitted_room_file)
    Advice before, after;
    Moving moving;
};

/// Throws Error where the two plans of a fit would need more memory than was wished for.
void require_memory_for_fit(const Inquiry& inquiry);

/// Fits the room to recordings that are on fit_grid(), then plans one box with the file's room and
/// with the fitted one, where it stays unless another place is better by the target's indifference.
/// `folder` as in fitted_room_file(). Throws Error as fit_room() does. Missing
/// furniture is looked for if so asked: that takes several times as long.
Fitted find_fit(Inquiry& inquiry, std::vector<HeardCurve> heard, const Microphone& microphone,
                const std::filesystem::path& folder, bool look_for_furniture);

/// About how long find_fit() takes on this machine [s], without a look for furniture, in a room
/// that is a rectangle: looks at the room and a coarse plan, timed.
double fit_seconds(Inquiry& inquiry, std::vector<HeardCurve> heard);

/// The text and the document of `fit`.
Answer fit_answer(const Inquiry& inquiry, const Fitted& fitted);

/// What was found, each a sentence or two.
std::vector<std::string> fit_words(const Inquiry& inquiry, const Fitted& fitted);

/// The same as a page that opens offline (report/fit_page).
std::string fit_html(const Inquiry& inquiry, const Fitted& fitted);

}  // namespace boxroom
