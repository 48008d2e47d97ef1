#pragma once
#include <cstdio>
#include <string>
#include <string_view>

namespace boxroom {

namespace detail {

/// How many bytes the UTF-8 character at the beginning has, and which it is; 0 where there is none
/// (RFC 3629: no overlong forms, no surrogates, nothing above U+10FFFF).
struct Utf8 {
    std::size_t bytes = 0;
    unsigned long code = 0;
};

inline Utf8 first_character(std::string_view text) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const unsigned lead = byte(0);
    if (lead < 0x80) return {1, lead};
    const std::size_t bytes = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
    if (lead < 0xC2 || lead > 0xF4 || bytes > text.size()) return {};
    unsigned long code = lead & (0xFFu >> (bytes + 1));
    for (std::size_t i = 1; i < bytes; ++i) {
        if ((byte(i) & 0xC0) != 0x80) return {};
        code = code << 6 | (byte(i) & 0x3Fu);
    }
    const unsigned long least[] = {0, 0, 0x80, 0x800, 0x10000};
    if (code < least[bytes] || code > 0x10FFFF || (code >= 0xD800 && code <= 0xDFFF)) return {};
    return {bytes, code};
}

/// What a terminal obeys instead of showing it: C0 and C1 (ECMA-48), line and paragraph separators,
/// and what turns the direction of writing (Unicode TR 9).
inline bool is_alive(unsigned long code) {
    return code < 0x20 || (code >= 0x7F && code <= 0x9F) || code == 0x61C ||
           (code >= 0x200E && code <= 0x200F) || (code >= 0x2028 && code <= 0x202E) ||
           (code >= 0x2066 && code <= 0x2069) || code == 0xFEFF;
}

}  // namespace detail

enum class Lines { shown, kept };

/// Text of the user as it may stand on a terminal: control characters, direction marks and bytes
/// that are no UTF-8 become \x1b, \u202e and the like. Line breaks become \x0a, or are kept where
/// the text is a whole answer of ours.
inline std::string visible_text(std::string_view text, Lines lines = Lines::shown) {
    std::string out;
    out.reserve(text.size());
    char shown[16];
    while (!text.empty()) {
        const auto [bytes, code] = detail::first_character(text);
        if (bytes == 0) {
            std::snprintf(shown, sizeof shown, "\\x%02x", static_cast<unsigned char>(text[0]));
            out += shown;
        } else if (detail::is_alive(code) && !(lines == Lines::kept && code == '\n')) {
            std::snprintf(shown, sizeof shown, code < 0x100 ? "\\x%02lx" : "\\u%04lx", code);
            out += shown;
        } else {
            out += text.substr(0, bytes);
        }
        text.remove_prefix(bytes == 0 ? 1 : bytes);
    }
    return out;
}

}  // namespace boxroom
