#pragma once
#include <functional>
#include <string>

namespace boxroom {

/// What a long answer says on its way: what is being done, and the share that is behind it.
using PageProgress = std::function<void(const std::string& phase, double share)>;

/// The page's way to the commands: one JSON document for another.
///
/// request: {"command", "text"} and, where the command knows them, "units" ("metric" or
/// "imperial"), "subs", "qtc", "volume". Commands:
///   check, listen, plan, build   what the program's own say, less times and folders; check adds
///                                "floor": where the file's boxes stand [m]; listen and plan show
///                                the recordings whose tables are in "files" ({name: text})
///   fit, fit_time                the same recordings correct the room (page/page_recordings.hpp)
///   box                          the box of "volume_m3" or "wanted_qtc", or the file's, with a
///                                smaller and a larger one, and "files": {"response.svg"};
///                                "narrow" for a telephone
///   look                         the room file as a document: "document" holds its tables, "lines"
///                                the line of each value by its path ("seat[0].at[1]"), "lengths"
///                                what could be a length [m]
///   edit                         "text" with each of "edits" written into it, all else byte for
///                                byte: {"path", "toml"}, {"path", "metres"} in the unit that
///                                stands there, {"path", "rename": key}, {"path", "comment": true}
///                                for a key that shall not count, {"path", "add": [lines]} or
///                                {"path", "remove": index}
///   start                        the starter room file
///   names                        what the page offers to choose from: constructions, contents
///
/// answer: {"status": 0, "answer": the document, "text": for people, "files": {name: text}};
/// {"status": 2, "faults": [{"line", "where", "what", "mend"}]} for what the user can mend;
/// {"status": 1, "trouble": a sentence} for all else. Never throws. What a plan has learnt of a
/// room that is no rectangle goes to `learnt`, for whoever lets it be heard (live/room_fields.hpp).
std::string page_answer(const std::string& request, const PageProgress& tell,
                        std::string* learnt = nullptr);

}  // namespace boxroom
