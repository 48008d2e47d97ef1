#pragma once
#include <cstdio>
#include <string>

namespace boxroom {

/// A number in a sentence, rounded to so many decimals; for values below 1e15.
inline std::string number(double value, int decimals) {
    char text[32];
    std::snprintf(text, sizeof text, "%.*f", decimals, value);
    return text;
}

}  // namespace boxroom
