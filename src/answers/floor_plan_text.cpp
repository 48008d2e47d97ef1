#include "answers/floor_plan_text.hpp"

#include <algorithm>
#include <cmath>

#include "report/html_text.hpp"

namespace boxroom {
namespace {

constexpr double most_columns = 64, most_rows = 24;

/// A name fit for a terminal: no control characters, not endless.
std::string shown(const std::string& name) {
    std::string out = shortened_text(name, 40);
    for (char& c : out)
        if (static_cast<unsigned char>(c) < 0x20 || c == 0x7F) c = ' ';
    return out;
}

char seat_mark(std::size_t n) {
    return n < 9 ? static_cast<char>('1' + n) : n < 35 ? static_cast<char>('a' + n - 9) : '*';
}

char sub_mark(std::size_t n) {
    return n < 26 ? static_cast<char>('A' + n) : '@';
}

class FloorPlan {
  public:
    explicit FloorPlan(const Room& room) : room_(room) {
        const double wide = std::min(most_columns, 2 * most_rows * room.width / room.length);
        columns_ = std::max(8, static_cast<int>(std::lround(wide)));
        rows_ = std::max(4, static_cast<int>(std::lround(wide * room.length / room.width / 2)));
        rows_ = std::min(rows_, static_cast<int>(most_rows));
        cell_.assign(static_cast<std::size_t>(rows_), std::string(columns_, ' '));
    }

    /// Marks what lies outside the outline; false if nothing does.
    bool cut_away() {
        bool any = false;
        for (int r = 0; r < rows_; ++r)
            for (int c = 0; c < columns_; ++c)
                if (!room_.plan.covers((c + 0.5) * room_.width / columns_,
                                       (r + 0.5) * room_.length / rows_))
                    cell_[static_cast<std::size_t>(r)][static_cast<std::size_t>(c)] = ':',
                    any = true;
        return any;
    }
    int column(double x) const {
        return std::clamp(static_cast<int>(x / room_.width * columns_), 0, columns_ - 1);
    }
    int row(double y) const {
        return std::clamp(static_cast<int>(y / room_.length * rows_), 0, rows_ - 1);
    }
    void fill(const KeepOut& k) {
        // A cell belongs to what covers its middle; something narrow still gets one.
        const int c0 = static_cast<int>(std::lround(k.x0 / room_.width * columns_)),
                  c1 = static_cast<int>(std::lround(k.x1 / room_.width * columns_)),
                  r0 = static_cast<int>(std::lround(k.y0 / room_.length * rows_)),
                  r1 = static_cast<int>(std::lround(k.y1 / room_.length * rows_));
        const int first_row = std::min(r0, rows_ - 1), first_column = std::min(c0, columns_ - 1);
        for (int r = first_row; r < std::max(r1, first_row + 1); ++r)
            for (int c = first_column; c < std::max(c1, first_column + 1); ++c)
                cell_[static_cast<std::size_t>(r)][static_cast<std::size_t>(c)] = '#';
    }
    /// False where another mark stands there already.
    bool mark(const Point& at, char sign) {
        char& c =
            cell_[static_cast<std::size_t>(row(at.y))][static_cast<std::size_t>(column(at.x))];
        if (c != ' ' && c != '#') return false;
        c = sign;
        return true;
    }
    bool named() const { return columns_ > 12; }  ///< room for the word in the front wall
    std::string text() const {
        const std::string title = " front ";
        std::string front(static_cast<std::size_t>(columns_), '=');
        if (named()) front.replace(static_cast<std::size_t>(columns_ - 7) / 2, 7, title);
        std::string out = "  +" + front + "+\n";
        for (const std::string& line : cell_) out += "  |" + line + "|\n";
        return out + "  +" + std::string(static_cast<std::size_t>(columns_), '-') + "+\n";
    }

  private:
    const Room& room_;
    int columns_ = 0, rows_ = 0;
    std::vector<std::string> cell_;
};

}  // namespace

std::string floor_plan_text(const Scenario& s, Units units) {
    FloorPlan plan(s.acoustics.room);
    const bool cut = plan.cut_away();
    for (const KeepOut& k : s.wanted.keep_outs) plan.fill(k);
    std::string key = plan.named() ? "" : "  =  front wall\n";
    const auto name = [&](char sign, const std::string& what, const Point& at, bool seen) {
        key += std::string("  ") + sign + "  " + shown(what) + ": " + format_length(at.x, units) +
               " from the left, " + format_length(at.y, units) + " from the front" +
               (seen ? "" : " (under another mark)") + "\n";
    };
    for (std::size_t n = 0; n < s.seats.size(); ++n)
        name(seat_mark(n), s.seats[n].name, s.seats[n].at, plan.mark(s.seats[n].at, seat_mark(n)));
    for (std::size_t n = 0; n < s.placed.subs.size(); ++n)
        name(sub_mark(n), "sub, " + s.placed.subs[n].name, s.placed.subs[n].at,
             plan.mark(s.placed.subs[n].at, sub_mark(n)));
    std::string free;
    for (const KeepOut& k : s.wanted.keep_outs) free += (free.empty() ? "" : ", ") + shown(k.name);
    if (!free.empty()) key += "  #  kept free: " + free + "\n";
    if (cut) key += "  :  not of this room\n";
    return plan.text() + key;
}

}  // namespace boxroom
