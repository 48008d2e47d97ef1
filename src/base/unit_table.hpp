#pragma once
#include <span>
#include <string_view>

#include "base/units.hpp"

namespace boxroom {

inline constexpr double inch = 0.0254;  // exact (international yard and pound, 1959)
inline constexpr double foot = 12 * inch;
inline constexpr double litre = 1e-3;

/// A unit that room files and options may name.
struct Unit {
    const char* spelling;
    Quantity quantity;
    double factor;  ///< to SI
};

/// What a quantity is called, and how one is written.
struct Wording {
    Quantity quantity;
    const char* name;
    const char* example;
};

std::span<const Unit> all_units();
const Wording& wording(Quantity quantity);

/// Alike but for capitals.
bool same_word(std::string_view a, std::string_view b);
/// The unit of this quantity that is spelt so, or null; a full stop after it ("in.") says nothing.
const Unit* unit_named(std::string_view word, Quantity quantity);

}  // namespace boxroom
