#include "woofer/cutting.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>

#include "base/error.hpp"
#include "base/workshop_units.hpp"

namespace boxroom {
namespace {

constexpr double tiny = 1e-9;

/// A piece with its kerf, in a sheet grown by one kerf: then the kerf stays between pieces and none
/// is asked for at the sheet's edge.
struct Piece {
    int panel;
    double length, width;
};

struct Free {
    int sheet;
    double x, y, length, width;
};

/// How one try goes about it.
struct Way {
    int order;       ///< what comes first: 0 area, 1 longer side, 2 width, 3 perimeter
    bool best_area;  ///< take the tightest free rectangle by area, or else by its shorter rest
    int split;       ///< 0 shorter rest, 1 longer rest, 2 always across, 3 always along
};

class Try {
  public:
    Try(const CuttingPlan& blank, bool grain, Way way) : plan_(blank), grain_(grain), way_(way) {}

    CuttingPlan run(std::vector<Piece> pieces) {
        std::stable_sort(pieces.begin(), pieces.end(), [this](const Piece& a, const Piece& b) {
            return size(a) > size(b) + tiny;
        });
        for (const Piece& piece : pieces) place(piece);
        measure_offcut();
        return std::move(plan_);
    }

  private:
    double size(const Piece& p) const {
        switch (way_.order) {
            case 0:
                return p.length * p.width;
            case 1:
                return std::max(p.length, p.width);
            case 2:
                return p.width;
            default:
                return p.length + p.width;
        }
    }

    /// How badly the piece fills this free rectangle; empty where it does not fit.
    std::optional<double> badness(const Free& f, double length, double width) const {
        if (length > f.length + tiny || width > f.width + tiny) return std::nullopt;
        if (way_.best_area) return f.length * f.width - length * width;
        return std::min(f.length - length, f.width - width);
    }

    void place(const Piece& piece) {
        std::size_t chosen = free_.size();
        bool turn = false;
        double least = 0;
        for (std::size_t n = 0; n < free_.size(); ++n)
            for (const bool now : {false, true}) {
                if (now && (grain_ || piece.length == piece.width)) continue;
                const auto bad = badness(free_[n], now ? piece.width : piece.length,
                                         now ? piece.length : piece.width);
                // An earlier sheet first: a new one is opened only when all before it are full.
                if (!bad) continue;
                if (chosen < free_.size() &&
                    (free_[n].sheet > free_[chosen].sheet ||
                     (free_[n].sheet == free_[chosen].sheet && *bad >= least)))
                    continue;
                chosen = n, turn = now, least = *bad;
            }
        if (chosen == free_.size()) {
            free_.push_back({plan_.sheets++, 0, 0, plan_.sheet_length + plan_.kerf,
                             plan_.sheet_width + plan_.kerf});
            turn = !badness(free_.back(), piece.length, piece.width);
        }
        const double length = turn ? piece.width : piece.length;
        const double width = turn ? piece.length : piece.width;
        const Free f = free_[chosen];
        free_.erase(free_.begin() + static_cast<std::ptrdiff_t>(chosen));
        plan_.pieces.push_back(
            {piece.panel, f.sheet, f.x, f.y, length - plan_.kerf, width - plan_.kerf});
        split(f, length, width);
    }

    /// What is left of a free rectangle, parted by one straight cut.
    void split(const Free& f, double length, double width) {
        const double right = f.length - length, above = f.width - width;
        const bool across = way_.split == 2 || (way_.split == 0 && right < above) ||
                            (way_.split == 1 && right >= above);
        // Across: the first cut runs along the sheet above the piece, else beside it.
        const Free beside{f.sheet, f.x + length, f.y, right, across ? width : f.width};
        const Free over{f.sheet, f.x, f.y + width, across ? f.length : length, above};
        for (const Free& rest : {beside, over})
            if (rest.length > plan_.kerf + tiny && rest.width > plan_.kerf + tiny)
                free_.push_back(rest);
    }

    void measure_offcut() {
        double area = 0;
        for (const Free& f : free_) {
            const double length = f.length - plan_.kerf, width = f.width - plan_.kerf;
            if (length * width <= area) continue;
            area = length * width;
            plan_.largest_offcut[0] = length, plan_.largest_offcut[1] = width;
        }
    }

    CuttingPlan plan_;
    bool grain_;
    Way way_;
    std::vector<Free> free_;
};

std::vector<Piece> single_pieces(const std::vector<Panel>& list, const CuttingPlan& sheet,
                                 bool grain) {
    std::vector<Piece> pieces;
    for (std::size_t n = 0; n < list.size(); ++n) {
        const Panel& p = list[n];
        const bool fits =
            p.length <= sheet.sheet_length + tiny && p.width <= sheet.sheet_width + tiny;
        const bool fits_turned =
            !grain && p.width <= sheet.sheet_length + tiny && p.length <= sheet.sheet_width + tiny;
        if (!fits && !fits_turned)
            throw Error("[build] sheet",
                        "the piece \"" + p.name + "\" (" + format_millimetres(p.length) + " x " +
                            format_millimetres(p.width) + ") is larger than the sheet",
                        "give a larger sheet, or build a smaller box");
        for (int k = 0; k < p.count; ++k)
            pieces.push_back({static_cast<int>(n), p.length + sheet.kerf, p.width + sheet.kerf});
    }
    return pieces;
}

}  // namespace

CuttingPlan cutting_plan(const std::vector<Panel>& list, double sheet_length, double sheet_width,
                         double kerf, bool grain) {
    CuttingPlan blank;
    blank.sheet_length = sheet_length, blank.sheet_width = sheet_width, blank.kerf = kerf;
    const std::vector<Piece> pieces = single_pieces(list, blank, grain);
    std::optional<CuttingPlan> best;
    for (int order = 0; order < 4; ++order)
        for (const bool by_area : {true, false})
            for (int split = 0; split < 4; ++split) {
                CuttingPlan plan = Try(blank, grain, {order, by_area, split}).run(pieces);
                const auto offcut = [](const CuttingPlan& p) {
                    return p.largest_offcut[0] * p.largest_offcut[1];
                };
                if (!best || plan.sheets < best->sheets ||
                    (plan.sheets == best->sheets && offcut(plan) > offcut(*best) + tiny))
                    best = std::move(plan);
            }
    double used = 0;
    for (const PlacedPiece& p : best->pieces) used += p.length * p.width;
    if (best->sheets > 0) best->waste = 1 - used / (best->sheets * sheet_length * sheet_width);
    return *best;
}

}  // namespace boxroom
