// Packing: properties that must hold for any list.
#include <catch2/catch.hpp>
#include <map>
#include <random>

#include "base/error.hpp"
#include "woofer/cutting.hpp"

using namespace boxroom;

namespace {

Panel piece(double length, double width, int count = 1) {
    Panel p;
    p.name = "piece", p.count = count, p.length = length, p.width = width;
    return p;
}

/// Whether straight cuts from edge to edge part these pieces, tried by brute force: some cut with a
/// kerf free of wood must exist, and both halves must part likewise.
bool guillotine(std::vector<PlacedPiece> pieces, double kerf) {
    if (pieces.size() <= 1) return true;
    for (const bool along : {false, true}) {
        const auto low = [&](const PlacedPiece& p) { return along ? p.y : p.x; };
        const auto high = [&](const PlacedPiece& p) {
            return along ? p.y + p.width : p.x + p.length;
        };
        for (const PlacedPiece& edge : pieces) {
            const double cut = high(edge);
            std::vector<PlacedPiece> before, after;
            bool clean = true;
            for (const PlacedPiece& p : pieces) {
                if (high(p) <= cut + 1e-9)
                    before.push_back(p);
                else if (low(p) >= cut + kerf - 1e-9)
                    after.push_back(p);
                else
                    clean = false;
            }
            if (clean && !after.empty()) return guillotine(before, kerf) && guillotine(after, kerf);
        }
    }
    return false;
}

void check_plan(const std::vector<Panel>& list, const CuttingPlan& plan, bool grain) {
    std::map<int, int> count;
    std::map<int, std::vector<PlacedPiece>> by_sheet;
    double used = 0;
    for (const PlacedPiece& p : plan.pieces) {
        ++count[p.panel];
        by_sheet[p.sheet].push_back(p);
        used += p.length * p.width;
        const Panel& asked = list[static_cast<std::size_t>(p.panel)];
        const bool straight =
            std::abs(p.length - asked.length) < 1e-9 && std::abs(p.width - asked.width) < 1e-9;
        const bool turned =
            std::abs(p.length - asked.width) < 1e-9 && std::abs(p.width - asked.length) < 1e-9;
        CHECK((straight || (turned && !grain)));
        CHECK(p.x >= -1e-9);
        CHECK(p.y >= -1e-9);
        CHECK(p.x + p.length <= plan.sheet_length + 1e-9);
        CHECK(p.y + p.width <= plan.sheet_width + 1e-9);
        CHECK((p.sheet >= 0 && p.sheet < plan.sheets));
    }
    for (std::size_t n = 0; n < list.size(); ++n)
        CHECK(count[static_cast<int>(n)] == list[n].count);
    for (const auto& [sheet, pieces] : by_sheet) {
        for (std::size_t a = 0; a < pieces.size(); ++a)
            for (std::size_t b = a + 1; b < pieces.size(); ++b) {
                const PlacedPiece &p = pieces[a], &q = pieces[b];
                const double k = plan.kerf - 1e-9;
                CHECK((p.x + p.length + k <= q.x || q.x + q.length + k <= p.x ||
                       p.y + p.width + k <= q.y || q.y + q.width + k <= p.y));
            }
        CHECK(guillotine(pieces, plan.kerf));
    }
    CHECK(static_cast<int>(by_sheet.size()) == plan.sheets);  // none bought for nothing
    CHECK(plan.waste == Approx(1 - used / (plan.sheets * plan.sheet_length * plan.sheet_width)));
}

}  // namespace

TEST_CASE("Random lists: nothing overlaps, nothing leaves the sheet, the kerf is kept") {
    std::mt19937 random(5);
    std::uniform_real_distribution<double> side(0.02, 0.9);
    for (int n = 0; n < 120; ++n) {
        std::vector<Panel> list;
        for (unsigned k = 0; k < 1 + random() % 9; ++k) {
            const double a = side(random), b = side(random);
            list.push_back(
                piece(std::max(a, b), std::min(a, b), 1 + static_cast<int>(random() % 4)));
        }
        const bool grain = random() % 2;
        const double kerf = random() % 3 ? 0.0032 : 0;
        check_plan(list, cutting_plan(list, 2.44, 1.22, kerf, grain), grain);
    }
}

TEST_CASE("Whole sheets and exact halves go in without waste") {
    CHECK(cutting_plan({piece(2.44, 1.22, 2)}, 2.44, 1.22, 0.003, false).sheets == 2);
    CHECK(cutting_plan({piece(2.44, 1.22, 2)}, 2.44, 1.22, 0.003, false).waste ==
          Approx(0).margin(1e-9));
    // Two pieces and one saw cut between them.
    CHECK(cutting_plan({piece(1.22, 1.2185, 2)}, 2.44, 1.22, 0.003, false).sheets == 2);
    CHECK(cutting_plan({piece(1.22, 1.2185, 2)}, 2.443, 1.22, 0.003, false).sheets == 1);
    CHECK(cutting_plan({piece(1.22, 0.61, 4)}, 2.44, 1.22, 0, false).waste ==
          Approx(0).margin(1e-9));
}

TEST_CASE("A box of 30 L goes on one sheet, and never needs more than by area twice") {
    std::mt19937 random(9);
    std::uniform_real_distribution<double> side(0.1, 0.6);
    for (int n = 0; n < 60; ++n) {
        std::vector<Panel> list;
        double area = 0;
        for (int k = 0; k < 6; ++k) {
            const double a = side(random), b = side(random);
            list.push_back(piece(std::max(a, b), std::min(a, b), 2));
            area += 2 * a * b;
        }
        // No proof, but far from what a broken packing would take.
        CHECK(cutting_plan(list, 2.44, 1.22, 0.003, false).sheets <=
              1 + static_cast<int>(2 * area / (2.44 * 1.22)));
    }
}

TEST_CASE("A piece larger than the sheet is refused by name") {
    try {
        cutting_plan({piece(2.5, 0.3)}, 2.44, 1.22, 0.003, false);
        FAIL("no error");
    } catch (const Error& error) {
        CHECK(std::string(error.what()).find("piece") != std::string::npos);
    }
    // With the grain along the sheet a piece that would fit turned does not.
    CHECK_THROWS_AS(cutting_plan({piece(1.3, 1.25)}, 2.44, 1.22, 0.003, true), Error);
}
