#include "room_file/recording_reader.hpp"

#include <algorithm>

#include "base/spelling.hpp"
#include "base/visible_text.hpp"
#include "room_file/place_reader.hpp"
#include "room_file/recordings_of.hpp"

namespace boxroom {
namespace {

/// The place in `all` of the name that stands at `key`; a fault where there is none such.
template <typename Named>
const Named* named(TableReader& table, const std::string& key, const std::vector<Named>& all) {
    const auto name = table.text(key);
    if (!name) return nullptr;
    const auto found =
        std::find_if(all.begin(), all.end(), [&](const Named& one) { return one.name == *name; });
    if (found != all.end()) return &*found;
    std::vector<std::string> names;
    for (const Named& one : all) names.push_back(one.name);
    const std::string near = nearest_word(*name, names);
    table.fault(
        key,
        "no [[" + std::string(key == "sub" ? "sub" : "seat") + "]] has the name \"" + *name + '"',
        near.empty() ? "write the name as it stands there" : "did you mean \"" + near + "\"?");
    return nullptr;
}

void read_file_names(TableReader& table, Recording& recording) {
    const auto sound = table.file_name("sound"), curve = table.file_name("curve");
    if (sound.has_value() == curve.has_value())
        table.fault(sound ? "curve" : "", table.title() + " wants either `sound` or `curve`",
                    "name the WAV file as sound, or the CSV file as curve");
    recording.sound = sound.value_or(""), recording.curve = curve.value_or("");
    recording.name = visible_text(sound ? *sound : curve.value_or(""));
    recording.channel = table.whole_number("channel", 1, 1024).value_or(1);
}

void read_place(TableReader& table, const ReadContext& context, const std::vector<Seat>& seats,
                Recording& recording) {
    const Seat* seat = named(table, "seat", seats);
    const Seat* box_seat = named(table, "box_on_seat", seats);
    if (table.has("seat") && (table.has("at") || table.has("box_on_seat"))) {
        table.fault("seat", table.title() + " has a `seat` and another place as well",
                    "leave `at` and `box_on_seat` out, or `seat`");
        return;
    }
    if (seat) {
        recording.seat = seat->name, recording.at = seat->at;
    } else if (!table.has("seat")) {
        recording.at =
            read_point(table, "the microphone of a recording", context).value_or(Point{});
    }
    if (box_seat) recording.box_on_seat = box_seat->name;
}

}  // namespace

Recordings read_recordings(TableReader& file, const ReadContext& context,
                           const std::vector<Seat>& seats, const std::vector<PlacedSub>& subs) {
    Recordings out;
    for (TableReader& table : file.tables("recording")) {
        Recording recording;
        read_file_names(table, recording);
        read_place(table, context, seats, recording);
        if (const PlacedSub* sub = named(table, "sub", subs)) recording.sub = sub->name;
        if (table.has("sub") && table.has("box_on_seat"))
            table.fault("sub", table.title() + " has the box on a seat, so no placed sub played",
                        "leave `sub` out");
        if (!table.has("box_on_seat") && subs.empty())
            table.fault("sub", table.title() + " is there, but no [[sub]] is placed",
                        "add the [[sub]] that played");
        table.close();
        out.all.push_back(recording);
    }
    TableReader microphone = file.table("microphone", "[microphone]");
    out.microphone.calibration = microphone.file_name("calibration").value_or("");
    out.microphone.absolute = microphone.yes_or_no("absolute").value_or(false);
    microphone.close();
    return out;
}

Recordings recordings_of(const Scenario& scenario, const std::filesystem::path& file) {
    const toml::table root = toml::parse(std::string_view(scenario.source_text));
    FaultList faults(file.string());
    TableReader reader(&root, "the file", 1, faults);
    std::vector<std::string> warnings;
    const ReadContext context{faults,
                              warnings,
                              scenario.acoustics.air,
                              scenario.acoustics.room,
                              scenario.design.driver,
                              scenario.design.amplifier,
                              true};
    Recordings out = read_recordings(reader, context, scenario.seats, scenario.placed.subs);
    faults.throw_if_any();
    const auto from_file = [&](std::filesystem::path& path) {
        if (!path.empty() && path.is_relative()) path = file.parent_path() / path;
    };
    for (Recording& recording : out.all) from_file(recording.sound), from_file(recording.curve);
    from_file(out.microphone.calibration);
    return out;
}

}  // namespace boxroom
