// walls, explain: what stands behind the numbers, from where the code itself takes it.
#include <fmt/format.h>

#include <algorithm>
#include <numbers>

#include "app/commands.hpp"
#include "app/explain_topics.hpp"
#include "app/wrapped_text.hpp"
#include "base/error.hpp"
#include "base/spelling.hpp"
#include "results/criterion.hpp"
#include "solvers/constructions.hpp"
#include "solvers/contents.hpp"

namespace boxroom {
namespace {

double absorption_at(const Construction& construction, double frequency) {
    const Air air;
    return random_incidence_absorption(wall_from_construction(construction, air)
                                           .admittance(2 * std::numbers::pi * frequency, air));
}

const char* known_words(AbsorptionKnown known) {
    return known == AbsorptionKnown::measured_below_100_hz ? "measured below 100 Hz"
                                                           : "from tables at 125 Hz";
}

std::string criteria_topic() {
    std::string text;
    for (const Criterion& c : criterion_table)
        text += fmt::format("{}, {}\n", c.label, c.unit) + wrapped(c.description, 4);
    return text + "\n" +
           wrapped(
               "Spread is what no equaliser mends; place does. Unevenness is how ragged the "
               "average "
               "of the seats is; an equaliser mends its humps. Balance is the broad tilt, which "
               "the "
               "size of the box moves. The score is their weighted sum; [score] sets the weights.");
}

std::string contents_topic() {
    std::string text = wrapped(
        fmt::format("[room] contents takes energy from moving air: most at {:.0f} Hz, little at 50 "
                    "Hz. In m2 of open window for each m2 of floor:",
                    named_contents_frequency));
    for (const NamedContents& contents : named_contents()) {
        text += fmt::format("\n{:10} {:.2f}  ({:.2f} to {:.2f})\n", contents.name,
                            contents.area_per_floor, contents.low, contents.high);
        text += wrapped(contents.source, 4);
    }
    return text + "\n" +
           wrapped(
               "Treatment is given by its own area, the same at all frequencies: "
               "contents = { absorption_area = \"6 m2\" }.");
}

std::string layouts_topic() {
    std::string text = wrapped(
        "From memory, Welti (AES 112th Convention, 2002) and Welti & Devantier (JAES 54, 2006) "
        "find "
        "two subs at opposite wall midpoints nearly as good as four at all midpoints. In 300 "
        "random "
        "rooms (nine seats 0.6 m apart, 20 to 80 Hz, tests/bench/layouts.cpp) the median spread in "
        "dB is:");
    text += fmt::format("\n{:32}{:>16}{:>16}\n", "", "seats in middle", "seats off it");
    struct Row {
        const char* name;
        double middle, off;
    };
    for (const Row& row : {Row{"1, front left corner", 4.2, 4.5},
                           {"1, front wall midpoint", 3.5, 4.0},
                           {"2, front corners", 3.5, 3.9},
                           {"2, diagonal corners", 1.5, 2.8},
                           {"2, front and back midpoints", 0.7, 2.4},
                           {"2, left and right midpoints", 1.1, 2.3},
                           {"4, corners", 0.6, 1.7},
                           {"4, wall midpoints", 0.5, 0.7}})
        text += fmt::format("{:32}{:>16.1f}{:>16.1f}\n", row.name, row.middle, row.off);
    return text + "\n" +
           wrapped(
               "Off the middle means up to 0.3 m aside and up to 20 % back. Two opposite midpoints "
               "come within 0.3 dB of all four in 60 % of the rooms with seats in the middle, in "
               "13 "
               "% off it. Four at the midpoints are also the quietest, 10 dB below a corner for "
               "the "
               "same total output. So let the search look at your seats.");
}

std::string doubt_topic() {
    return wrapped(
               "Published comparisons of such models with measured rooms agree within about 5 dB "
               "(\"Sound absorption at low frequencies: modelling a test room\", Building "
               "Acoustics "
               "13(2), 141-158, 2006). Trust the order of the spots and the broad shape of a "
               "curve, "
               "not the last decibel.") +
           "\n" +
           wrapped(
               "Not in the model: furniture that the file does not name as a block, people, leaks, "
               "walls that move as a whole, a driver that distorts. A box is a point: right below "
               "about 200 Hz. What walls do below 125 Hz is measured for heavy rooms and plastered "
               "timber frame only; `boxroom walls` says which names rest on a table.") +
           "\n" +
           wrapped(
               "With [robustness] and more than one sub, 500 rooms are drawn: seats, boxes, room, "
               "walls, contents and driver within the file's limits. The set that wins most often "
               "is "
               "chosen; two that cannot be told apart are called a tie.");
}

std::string cautions_topic() {
    std::string text;
    for (const char* caution :
         {"Mains: wiring a plate amplifier is work for a licensed person in many places. Follow "
          "your "
          "local code, and unplug before you open anything.",
          "Dust: cutting board, MDF above all, makes fine dust that harms lungs. Wear a mask, use "
          "extraction.",
          "Weight: a loaded box is heavy and may tip. Lift with two people; fix tall boxes.",
          "Place: nothing in front of an exit, a heater or a stove; keep a way out free.",
          "Level: long listening harms hearing. NIOSH gives 85 dBA for 8 hours, half the time for "
          "each 3 dB more; ITU-T H.870 and the WHO 80 dBA for 40 hours a week. A-weighting "
          "understates bass."})
        text += wrapped(caution);
    return text;
}

struct Topic {
    const char *name, *about;
    std::string (*text)();
};

constexpr Topic topics[] = {
    {"criteria", "the numbers a place is judged by", criteria_topic},
    {"contents", "what furniture takes from the sound", contents_topic},
    {"layouts", "whether the layouts that are commonly quoted come out", layouts_topic},
    {"subs", "how many boxes, and how that is decided", subs_topic},
    {"rooms", "rooms that are no rectangle, open doors, and how true they are", rooms_topic},
    {"measuring", "driver and room by microphone, and the fit", measuring_topic},
    {"doubt", "how far to trust it, and what is left out", doubt_topic},
    {"cautions", "what can hurt you or others", cautions_topic}};

std::string list_of_topics() {
    std::string text = "boxroom explain TOPIC, with one of these:\n";
    for (const Topic& topic : topics) text += fmt::format("  {:10} {}\n", topic.name, topic.about);
    return text + "The walls that can be named are listed by: boxroom walls\n";
}

}  // namespace

Answer run_walls(const Request&) {
    Answer answer;
    answer.text = fmt::format("{:41}{:>7}{:>7}  {}\n", "absorption, random incidence", "63 Hz",
                              "125 Hz", "doubt");
    answer.json["walls"] = nlohmann::ordered_json::array();
    for (const Construction& c : constructions()) {
        const double at_63 = absorption_at(c, 63), at_125 = absorption_at(c, 125);
        answer.text += fmt::format("{:41}{:>7.2f}{:>7.2f}  {:.2f} to {:.2f}, {}\n", c.name, at_63,
                                   at_125, c.low, c.high, known_words(c.known));
        answer.text +=
            wrapped(c.source + (c.extrapolated.empty() ? "." : "; " + c.extrapolated + "."), 4);
        answer.json["walls"].push_back({{"name", c.name},
                                        {"absorption_63_hz", at_63},
                                        {"absorption_125_hz", at_125},
                                        {"low", c.low},
                                        {"high", c.high},
                                        {"known", known_words(c.known)},
                                        {"source", c.source},
                                        {"extrapolated", c.extrapolated}});
    }
    return answer;
}

Answer run_explain(const Request& request) {
    Answer answer;
    if (request.file.empty()) {
        answer.text = list_of_topics();
        answer.json["topics"] = nlohmann::ordered_json::array();
        for (const Topic& topic : topics)
            answer.json["topics"].push_back({{"name", topic.name}, {"about", topic.about}});
        return answer;
    }
    const auto* found = std::ranges::find(topics, request.file, &Topic::name);
    if (found == std::end(topics)) {
        std::vector<std::string> names;
        for (const Topic& topic : topics) names.emplace_back(topic.name);
        const std::string near = nearest_word(request.file, names);
        throw Error("explain", "there is no topic '" + request.file + "'",
                    near.empty() ? "boxroom explain lists them" : "did you mean '" + near + "'?");
    }
    answer.text = found->text();
    answer.json = {{"topic", found->name}, {"text", answer.text}};
    return answer;
}

}  // namespace boxroom
