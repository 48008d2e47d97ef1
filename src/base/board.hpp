#pragma once
#include <array>
#include <optional>
#include <string>
#include <vector>

namespace boxroom {

/// A rectangle of board in a cut list [m]. Edges and holes are for the saw; `volume` is the solid
/// volume of one piece with its window out, before any hole for driver or amplifier is cut.
struct Panel {
    std::string name;
    int count = 1;
    double length = 0, width = 0;                 ///< as laid on the sheet, length the longer side
    std::string edges;                            ///< how the four edges are cut
    double volume = 0;                            ///< [m3]
    std::optional<std::array<double, 2>> window;  ///< opening along length and width
    bool inside = false;                          ///< stands in the box's air: a brace, a cleat
};

/// "A", "B" ... "Z", "A1" ...: what the n-th line of a cut list is called on every page.
inline std::string piece_letter(int index) {
    const std::string letter(1, static_cast<char>('A' + index % 26));
    return index < 26 ? letter : letter + std::to_string(index / 26);
}

/// One piece on a sheet: its lower left corner and its sides as they lie there [m].
struct PlacedPiece {
    int panel = 0;  ///< index into the list that was packed
    int sheet = 0;
    double x = 0, y = 0, length = 0, width = 0;
};

/// A list of pieces laid on equal sheets.
struct CuttingPlan {
    double sheet_length = 0, sheet_width = 0, kerf = 0;  ///< [m]
    int sheets = 0;
    std::vector<PlacedPiece> pieces;
    double waste = 0;            ///< share of the bought board that is in no piece, 0 to 1
    double largest_offcut[2]{};  ///< largest whole rectangle left on the last sheet [m]
};

}  // namespace boxroom
