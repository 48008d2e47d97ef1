// new FILE --ask: a room file from a short dialogue.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iostream>

#include "app/commands.hpp"
#include "app/quantity_asker.hpp"
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

/// The corners that an L has not, by how far they are from the front left one.
struct Corner {
    const char* name;
    bool right, back;
};
constexpr Corner corners[] = {{"back left", false, true},
                              {"back right", true, true},
                              {"front left", false, false},
                              {"front right", true, false}};

class Questions : QuantityAsker {
  public:
    Questions(Dialogue& dialogue, bool in_feet) : QuantityAsker(dialogue) { imperial = in_feet; }

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
        ask_limits();
        ask_keep_outs();
        a_.imperial = imperial;
        return a_;
    }

  private:
    void ask_units() {
        d_.ask("Metric or imperial?", imperial ? "imperial" : "metric",
               [this](const std::string& answer) {
                   const std::string word = lower(answer);
                   const bool metric = std::string("metric").starts_with(word);
                   if (!metric && !std::string("imperial").starts_with(word))
                       throw Error("", "\"" + answer + "\" is neither", "write m or i");
                   imperial = !metric;
                   return word;
               });
    }

    void ask_room() {
        d_.say("\nStand facing the wall with the screen or the loudspeakers: that is the front.\n");
        width_ = length("How wide is the room, left to right?", 4.2, 1, 50, a_.width, 15);
        length_ = length("How long, front to back?", 5.4, 1, 50, a_.length, 20);
        height_ = length("How high?", imperial ? 8 * 0.3048 : 2.4, 1, 50, a_.height, 6);
        ask_corner();
    }

    /// An L is a rectangle that lacks a corner.
    void ask_corner() {
        a_.missing = {};
        d_.ask(
            "Does a corner lack, as in an L: none, back left, back right, front left, front right?",
            "none", [this](const std::string& answer) {
                corner_ = nullptr;
                if (lower(answer) == "none" || lower(answer) == "no") return answer;
                for (const Corner& corner : corners)
                    if (lower(answer) == corner.name) corner_ = &corner;
                if (!corner_)
                    throw Error("", "\"" + answer + "\" is no corner",
                                "write none, or one of the four");
                return answer;
            });
        if (!corner_) return;
        missing_width_ = length("  How wide is the piece that lacks?", width_ / 3, 0.1,
                                width_ - 0.5, a_.missing.width);
        missing_length_ =
            length("  How long is it?", length_ / 3, 0.1, length_ - 0.5, a_.missing.length);
        a_.missing.right = corner_->right, a_.missing.back = corner_->back;
        const Units units = imperial ? Units::imperial : Units::metric;
        a_.missing.rest_width = format_length(width_ - missing_width_, units);
        a_.missing.rest_length = format_length(length_ - missing_length_, units);
        if (!corner_->right && !corner_->back)
            a_.sub_name = "front right corner", a_.sub_x = format_length(width_ - 0.4, units);
    }

    bool lacks(double x, double y) const {
        if (!corner_) return false;
        const bool across = corner_->right ? x > width_ - missing_width_ : x < missing_width_;
        const bool along = corner_->back ? y > length_ - missing_length_ : y < missing_length_;
        return across && along;
    }

    /// How long one of the four walls is.
    double wall_length(std::size_t n) const {
        if (n < 2) return length_ - (corner_ && corner_->right == (n == 1) ? missing_length_ : 0);
        return width_ - (corner_ && corner_->back == (n == 3) ? missing_width_ : 0);
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
        const double area = height_ * wall_length(n);
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
        return imperial ? fmt::format("{:.0f} ft2", square_metres / (0.3048 * 0.3048))
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
            window ? (imperial ? "22 ft2" : "2 m2") : (imperial ? "20 ft2" : "1.8 m2");
        if (number != std::string::npos) {
            area = part.substr(number);
            if (area.find_first_not_of(".0123456789") == std::string::npos)
                area += imperial ? " ft2" : " m2";
        }
        const double size = parse_quantity(area, Quantity::area);
        if (!(size > 0)) throw Error("", area + " cannot be", "write for example window 2 m2");
        (window ? wall.window : wall.door) = area;
        return size;
    }

    void ask_seats() {
        std::string kept;
        d_.say("\nWhere are the heads of those who listen?\n");
        const int seats = count("How many seats?", 2, 1, 20);
        double front = 0.68 * length_;
        for (int n = 0; n < seats; ++n) {
            RoomAnswers::Seat seat;
            const std::string who = "Seat " + std::to_string(n + 1);
            seat.name = "seat " + std::to_string(n + 1);
            const double x = length(who + ", from the left wall?", width_ * (n + 1) / (seats + 1),
                                    0, width_, seat.x);
            front = length(
                who + ", from the front wall?", front, 0, length_, seat.y, 1e9, [&](double y) {
                    if (lacks(x, y))
                        throw Error("", "there is no floor", "the room lacks that corner");
                });
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
            quantity("Vas?", imperial ? "1.34 ft3" : "38 L", Quantity::volume,
                     imperial ? "ft3" : "L", 1e-4, 2, "from 0.1 L to 2000 L", a_.vas, 2e-3, 0.4);
        optional("Sd, area of the cone", Quantity::area, imperial ? "in2" : "cm2", 1e-3, 0.5,
                 "from 10 cm2 to 5000 cm2", a_.sd);
        const Driver driver = complete_driver(sheet, Air{});
        const ClosedBox box = closed_box_for_qtc(driver, std::max(0.7071, 1.1 * driver.qts), 1.15);
        a_.volume = imperial ? fmt::format("{:.2f} ft3", box.volume / 0.028316846592)
                             : fmt::format("{:.1f} L", box.volume * 1e3);
        // A whole number of decimals may round a tiny box to nothing.
        if (box.volume < 1e-3) a_.volume = fmt::format("{:.2f} L", box.volume * 1e3);
    }

    /// What says how loud it can play.
    void ask_limits() {
        d_.say("\nWhat says how loud it plays; the sheet has it, or leave it out.\n");
        optional("Re, resistance of the coil", Quantity::resistance, "ohm", 0.5, 50,
                 "from 0.5 to 50 ohm", a_.re);
        optional("Qes, electrical Q", Quantity::plain, "", 0.1, 5, "from 0.1 to 5", a_.qes);
        optional("xmax, travel of the cone one way", Quantity::length, "mm", 1e-3, 0.06,
                 "from 1 mm to 60 mm", a_.xmax);
        optional("Power that it takes", Quantity::power, "W", 5, 5000, "from 5 W to 5000 W",
                 a_.power);
    }

    void ask_keep_outs() {
        d_.say("\nDoor swings, ways to walk, radiators: boxes keep off them.\n");
        const int pieces = count("How many pieces of floor must stay free?", 0, 0, 12);
        for (int n = 0; n < pieces; ++n) {
            RoomAnswers::KeepOut free;
            free.name = d_.ask("What is piece " + std::to_string(n + 1) + "?",
                               "kept free " + std::to_string(n + 1),
                               [](const std::string& t) { return t; });
            const double x =
                length("  It begins how far from the left wall?", 0, 0, width_ - 0.05, free.x0);
            length("  and ends how far from the left wall?", std::min(width_, x + 0.9), x + 0.05,
                   width_, free.x1);
            const double y =
                length("  It begins how far from the front wall?", 0, 0, length_ - 0.05, free.y0);
            length("  and ends how far from the front wall?", std::min(length_, y + 0.9), y + 0.05,
                   length_, free.y1);
            a_.keep_outs.push_back(free);
        }
    }

    RoomAnswers a_;
    double width_ = 0, length_ = 0, height_ = 0;
    const Corner* corner_ = nullptr;  ///< that the room lacks, and how much of it
    double missing_width_ = 0, missing_length_ = 0;
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
