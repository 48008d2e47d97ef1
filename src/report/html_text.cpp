#include "report/html_text.hpp"

#include <fmt/format.h>

#include <cmath>

namespace boxroom {

std::string escape_html(std::string_view text) {
    std::string out;
    out.reserve(text.size());
    for (const char c : text) {
        const auto byte = static_cast<unsigned char>(c);
        switch (c) {
            case '&':
                out += "&amp;";
                break;
            case '<':
                out += "&lt;";
                break;
            case '>':
                out += "&gt;";
                break;
            case '"':
                out += "&quot;";
                break;
            case '\'':
                out += "&#39;";
                break;
            case '\t':
            case '\n':
            case '\r':
                out += c;
                break;
            default:
                if (byte < 0x20 || byte == 0x7f)
                    out += "\xef\xbf\xbd";  // U+FFFD
                else
                    out += c;
        }
    }
    return out;
}

std::string isolated(std::string_view text) {
    return "<bdi dir=\"auto\">" + escape_html(text) + "</bdi>";
}

std::string shortened_text(std::string_view text, int characters) {
    int count = 0;
    std::size_t last = 0;  // where the character before the last allowed one ends
    for (std::size_t i = 0; i < text.size(); ++i) {
        if ((static_cast<unsigned char>(text[i]) & 0xc0) == 0x80) continue;  // inside a character
        if (count == characters - 1) last = i;
        if (++count > characters) return std::string(text.substr(0, last)) + "\xe2\x80\xa6";
    }
    return std::string(text);
}

std::string base64(std::string_view bytes) {
    static const char digits[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string out;
    out.reserve((bytes.size() + 2) / 3 * 4);
    for (std::size_t i = 0; i < bytes.size(); i += 3) {
        unsigned group = 0;
        for (std::size_t k = 0; k < 3; ++k)
            group =
                group << 8 | (i + k < bytes.size() ? static_cast<unsigned char>(bytes[i + k]) : 0u);
        for (std::size_t k = 0; k < 4; ++k)
            out += i + k <= bytes.size() ? digits[group >> (18 - 6 * k) & 63] : '=';
    }
    return out;
}

std::string decimal(double value, int decimals) {
    if (!std::isfinite(value)) return "-";
    const std::string out = fmt::format("{:.{}f}", value, decimals);
    const bool zero = out.find_first_of("123456789") == std::string::npos;
    return zero && out[0] == '-' ? out.substr(1) : out;
}

}  // namespace boxroom
