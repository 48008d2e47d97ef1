#pragma once
#include <cstdint>
#include <cstdio>
#include <string>

namespace boxroom {

/// A number in a sentence, rounded to so many decimals; for values below 1e15.
inline std::string number(double value, int decimals) {
    char text[32];
    std::snprintf(text, sizeof text, "%.*f", decimals, value);
    return text;
}

/// How many of something, with a comma before every third digit from 10,000 on.
inline std::string counted(std::int64_t count) {
    std::string text = std::to_string(count);
    if (count >= 10'000)
        for (std::size_t at = text.size(); at > 3;) text.insert(at -= 3, ",");
    return text;
}

/// b - a as whoever subtracts the printed numbers finds it, with its sign; never "-0.0".
inline std::string change(double a, double b, int decimals) {
    const double by = std::stod(number(b, decimals)) - std::stod(number(a, decimals));
    const std::string text = number(by, decimals);
    return std::stod(text) == 0 ? number(0, decimals) : (by > 0 ? "+" : "") + text;
}

}  // namespace boxroom
