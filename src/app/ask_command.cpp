// new FILE --ask: a room file from a short dialogue.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iostream>

#include "app/commands.hpp"
#include "app/dialogue.hpp"
#include "base/error.hpp"
#include "base/spelling.hpp"
#include "room_file/asked_room_file.hpp"
#include "room_file/room_file.hpp"
#include "solvers/constructions.hpp"
#include "solvers/room.hpp"
#include "woofer/closed_box.hpp"

namespace boxroom {
namespace {

std::string lower(std::string text) {
    std::transform(text.begin(), text.end(), text.begin(), [](char c) {
        return static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    });
    return text;
}

/// What people say, and which construction that most often is.
const std::pair<const char*, const char*> everyday[] = {{"brick", "brick, plastered"},
                                                        {"stone", "heavy masonry"},
                                                        {"drywall", "plasterboard on studs"},
                                                        {"gypsum", "plasterboard on studs"},
                                                        {"plasterboard", "plasterboard on studs"},
                                                        {"glass", "window glass"},
                                                        {"window", "window glass"},
                                                        {"door", "solid door"},
                                                        {"wood", "wood floor on joists"},
                                                        {"floorboards", "wood floor on joists"},
                                                        {"joists", "wood floor on joists"},
                                                        {"tiles", "tiles on concrete"},
                                                        {"carpet", "carpet on concrete"},
                                                        {"curtain", "heavy curtain"}};

class Questions {
  public:
    Questions(Dialogue& dialogue, bool imperial) : d_(dialogue) { a_.imperial = imperial; }

    RoomAnswers ask() {
        d_.say(
            "Enter takes what stands in [brackets], < goes back a question. Ctrl-C stops, and "
            "nothing is written.\n\n");
        ask_units();
        a_.title = d_.ask("A name for the room?", a_.title, [](const std::string& t) { return t; });
        ask_room();
        ask_walls();
        ask_seats();
        ask_driver();
        return a_;
    }

  private:
    /// A quantity with its unit; a bare number gets `unit`. Keeps the text, returns the value.
    double quantity(const std::string& question, const std::string& fallback, Quantity kind,
                    const std::string& unit, double low, double high, const std::string& range,
                    std::string& kept, double usual_low = 0, double usual_high = 1e9) {
        double value = 0;
        kept = d_.ask(question, fallback, [&](const std::string& answer) {
            const bool bare =
                !unit.empty() && answer.find_first_not_of("+-.0123456789") == std::string::npos;
            const std::string text = bare ? answer + " " + unit : answer;
            value = parse_quantity(text, kind);
            if (!(value >= low && value <= high))
                throw Error("", text + " cannot be", "it must be " + range);
            if ((value < usual_low || value > usual_high) && text != doubted_) {
                doubted_ = text;
                throw Error("", text + " would be unusual", "if it is meant, write it once more");
            }
            if (bare) d_.say("  taken as " + text + "\n");
            return text;
        });
        return value;
    }

    double length(const std::string& question, double fallback, double low, double high,
                  std::string& kept, double usual_high = 1e9) {
        const Units units = a_.imperial ? Units::imperial : Units::metric;
        return quantity(question, format_length(fallback, units), Quantity::length,
                        a_.imperial ? "ft" : "m", low - 1e-9, high + 1e-9,
                        "from " + format_length(low, units) + " to " + format_length(high, units),
                        kept, 0, usual_high);
    }

    void ask_units() {
        d_.ask("Metric or imperial?", a_.imperial ? "imperial" : "metric",
               [this](const std::string& answer) {
                   const std::string word = lower(answer);
                   const bool metric = std::string("metric").starts_with(word);
                   if (!metric && !std::string("imperial").starts_with(word))
                       throw Error("", "\"" + answer + "\" is neither", "write m or i");
                   a_.imperial = !metric;
                   return word;
               });
    }

    void ask_room() {
        d_.say("\nStand facing the wall with the screen or the loudspeakers: that is the front.\n");
        width_ = length("How wide is the room, left to right?", 4.2, 1, 50, a_.width, 15);
        length_ = length("How long, front to back?", 5.4, 1, 50, a_.length, 20);
        height_ = length("How high?", a_.imperial ? 8 * 0.3048 : 2.4, 1, 50, a_.height, 6);
    }

    std::string construction(const std::string& answer) const {
        const auto& all = constructions();
        std::vector<std::string> names;
        for (const Construction& c : all) names.push_back(c.name);
        if (answer.find_first_not_of("0123456789") == std::string::npos && answer.size() < 4) {
            const std::size_t n = std::stoul(answer);
            if (n >= 1 && n <= names.size()) return names[n - 1];
            throw Error("", "there is no number " + answer,
                        "write 1 to " + std::to_string(names.size()));
        }
        for (const auto& [word, name] : everyday)
            if (lower(answer) == word) return name;
        std::vector<std::string> found;  // what begins so, else what holds the words
        for (const std::string& name : names)
            if (lower(name) == lower(answer)) return name;
        for (const std::string& name : names)
            if (lower(name).find(lower(answer)) != std::string::npos) found.push_back(name);
        if (found.size() == 1) return found.front();
        const std::string near = nearest_word(answer, found.empty() ? names : found);
        if (!near.empty()) return near;
        std::string choice;
        for (const std::string& name : found) choice += (choice.empty() ? "" : "; ") + name;
        throw Error("", "\"" + answer + "\" " + (found.empty() ? "is not known" : "may be several"),
                    found.empty() ? "write a number from the list" : "which of: " + choice + "?");
    }

    void ask_walls() {
        d_.say("\nWhat is each surface made of? A number, or a few words:\n");
        const auto& all = constructions();
        const std::size_t half = (all.size() + 1) / 2;
        for (std::size_t n = 0; n < half; ++n) {
            d_.say(fmt::format("  {:>2} {:<30}", n + 1, all[n].name));
            if (n + half < all.size())
                d_.say(fmt::format("  {:>2} {}", n + half + 1, all[n + half].name));
            d_.say("\n");
        }
        const char* questions[6] = {"Left wall?", "Right wall?", "Front wall?",
                                    "Back wall?", "Floor?",      "Ceiling?"};
        std::string fallback = "plasterboard on studs";
        for (std::size_t n = 0; n < 6; ++n) {
            if (n == 4) fallback = "wood floor on joists";
            if (n == 5) fallback = "plasterboard on studs";
            fallback = d_.ask(questions[n], fallback,
                              [this](const std::string& answer) { return construction(answer); });
            a_.walls[n].construction = fallback;  // rooms often repeat their walls
            if (n < 4) ask_openings(n);
        }
        a_.contents = d_.ask(
            "What stands in it: bare, sparse, furnished or soft?", "furnished",
            [](const std::string& answer) { return find_named_contents(lower(answer)).name; });
    }

    /// "window", "door 1.8 m2", "window 2 and door", "none". The one window of most rooms is before
    /// the listeners, the door behind them.
    void ask_openings(std::size_t n) {
        const double area = height_ * (n < 2 ? length_ : width_);
        const bool roomy = area > 5;
        const char* fallback = roomy && n == front_wall  ? "window"
                               : roomy && n == back_wall ? "door"
                                                         : "none";
        d_.ask("  A window or a door in it?", fallback, [&](const std::string& answer) {
            RoomAnswers::Wall wall{a_.walls[n].construction, "", ""};
            double taken = 0;
            for (const std::string& part : listed(lower(answer))) taken += read_part(part, wall);
            if (taken >= area)
                throw Error("", "the wall has only " + area_text(area), "write smaller areas");
            a_.walls[n] = wall;
            return answer;
        });
    }

    /// The words between commas, plus signs and "and".
    static std::vector<std::string> listed(std::string text) {
        for (std::size_t at; (at = text.find(" and ")) != std::string::npos;)
            text.replace(at, 5, ",");
        std::vector<std::string> parts{""};
        for (const char c : text)
            if (c == ',' || c == '+')
                parts.emplace_back();
            else if (c != ' ' || !parts.back().empty())
                parts.back() += c;
        return parts;
    }

    std::string area_text(double square_metres) const {
        return a_.imperial ? fmt::format("{:.0f} ft2", square_metres / (0.3048 * 0.3048))
                           : fmt::format("{:.1f} m2", square_metres);
    }

    /// One window or door with its area, or a usual one; returns the area.
    double read_part(const std::string& part, RoomAnswers::Wall& wall) const {
        const std::size_t number = part.find_first_of("0123456789.-");
        std::string word = part.substr(0, std::min(part.find(' '), number));
        if (word == "none" || word == "no" || word == "n") return 0;
        const bool window = !word.empty() && std::string("windows").starts_with(word);
        if (word.empty() || !(window || std::string("doors").starts_with(word)))
            throw Error("", "\"" + part + "\" is neither",
                        "write window, door, window and door, or none");
        std::string area =
            window ? (a_.imperial ? "22 ft2" : "2 m2") : (a_.imperial ? "20 ft2" : "1.8 m2");
        if (number != std::string::npos) {
            area = part.substr(number);
            if (area.find_first_not_of(".0123456789") == std::string::npos)
                area += a_.imperial ? " ft2" : " m2";
        }
        const double size = parse_quantity(area, Quantity::area);
        if (!(size > 0)) throw Error("", area + " cannot be", "write for example window 2 m2");
        (window ? wall.window : wall.door) = area;
        return size;
    }

    void ask_seats() {
        std::string kept;
        d_.say("\nWhere are the heads of those who listen?\n");
        int count = 0;
        d_.ask("How many seats?", "2", [&](const std::string& answer) {
            const double wanted = parse_quantity(answer, Quantity::plain);
            if (!(wanted >= 1 && wanted <= 20) || wanted != std::floor(wanted))
                throw Error("", answer + " cannot be", "a whole number from 1 to 20");
            count = static_cast<int>(wanted);
            return answer;
        });
        double front = 0.68 * length_;
        for (int n = 0; n < count; ++n) {
            RoomAnswers::Seat seat;
            const std::string who = "Seat " + std::to_string(n + 1);
            seat.name = "seat " + std::to_string(n + 1);
            length(who + ", from the left wall?", width_ * (n + 1) / (count + 1), 0, width_,
                   seat.x);
            front = length(who + ", from the front wall?", front, 0, length_, seat.y);
            a_.seats.push_back(seat);
        }
        length("How high are the ears above the floor?", std::min(1.1, 0.9 * height_), 0, height_,
               kept);
        for (RoomAnswers::Seat& seat : a_.seats) seat.z = kept;
    }

    void ask_driver() {
        d_.say("\nThree numbers from the driver's data sheet.\n");
        DriverSheet sheet;
        sheet.fs = quantity("fs, resonance in free air?", "27 Hz", Quantity::frequency, "Hz", 5,
                            200, "from 5 Hz to 200 Hz", a_.fs, 12, 90);
        // Above this no closed box stays below Qtc 1.2.
        sheet.qts = quantity("Qts, total Q?", "0.45", Quantity::plain, "", 0.1, 1.1,
                             "from 0.1 to 1.1 for a closed box", a_.qts);
        a_.qts = fmt::format("{:g}", sheet.qts);  // ".45" is a number, but not TOML
        sheet.vas =
            quantity("Vas?", a_.imperial ? "1.34 ft3" : "38 L", Quantity::volume,
                     a_.imperial ? "ft3" : "L", 1e-4, 2, "from 0.1 L to 2000 L", a_.vas, 2e-3, 0.4);
        d_.ask("Sd, area of the cone (Enter if you do not know)?", "",
               [this](const std::string& answer) {
                   if (answer.empty()) return answer;
                   const bool bare = answer.find_first_not_of(".0123456789") == std::string::npos;
                   const std::string text =
                       bare ? answer + (a_.imperial ? " in2" : " cm2") : answer;
                   const double sd = parse_quantity(text, Quantity::area);
                   if (!(sd >= 1e-3 && sd <= 0.5))
                       throw Error("", text + " cannot be", "it must be from 10 cm2 to 5000 cm2");
                   a_.sd = text;
                   return text;
               });
        const Driver driver = complete_driver(sheet, Air{});
        const ClosedBox box = closed_box_for_qtc(driver, std::max(0.7071, 1.1 * driver.qts), 1.15);
        a_.volume = a_.imperial ? fmt::format("{:.2f} ft3", box.volume / 0.028316846592)
                                : fmt::format("{:.1f} L", box.volume * 1e3);
        // A whole number of decimals may round a tiny box to nothing.
        if (box.volume < 1e-3) a_.volume = fmt::format("{:.2f} L", box.volume * 1e3);
    }

    Dialogue& d_;
    RoomAnswers a_;
    std::string doubted_;  ///< the last answer that was questioned
    double width_ = 0, length_ = 0, height_ = 0;
};

}  // namespace

std::string ask_for_room_file(const Request& request, bool& imperial) {
    // Questions go to standard error: standard output is for the answer (and --json).
    Dialogue dialogue(std::cin, std::cerr);
    RoomAnswers answers;
    for (bool done = false; !done;) try {
            answers = Questions(dialogue, request.units == Units::imperial).ask();
            done = true;
        } catch (const GoBack&) {
            dialogue.begin_again();
        }
    imperial = answers.imperial;
    const std::string text = asked_room_file(answers);
    parse_room_file(text, request.file);  // what is written can be read
    return text;
}

}  // namespace boxroom
