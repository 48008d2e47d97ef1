#include "picture/printable.hpp"

#include <cstdint>
#include <optional>

namespace boxroom {
namespace {

/// Decodes the character at `text[at]` and steps over it; nothing (and one byte further) if broken.
std::optional<std::uint32_t> next_character(std::string_view text, std::size_t& at) {
    const auto lead = static_cast<unsigned char>(text[at++]);
    if (lead < 0x80) return lead;
    const int more = lead >= 0xF0 && lead < 0xF8   ? 3
                     : lead >= 0xE0 && lead < 0xF0 ? 2
                     : lead >= 0xC2 && lead < 0xE0 ? 1
                                                   : 0;
    if (more == 0 || at + std::size_t(more) > text.size()) return std::nullopt;
    std::uint32_t code = lead & (0x3Fu >> more);
    for (int i = 0; i < more; ++i) {
        const auto byte = static_cast<unsigned char>(text[at + std::size_t(i)]);
        if ((byte & 0xC0) != 0x80) return std::nullopt;
        code = (code << 6) | (byte & 0x3Fu);
    }
    at += std::size_t(more);
    return code;
}

std::string plain_form(std::uint32_t code) {
    if (code < 0x20 || code == 0x7F || (code >= 0x80 && code <= 0xA0)) return " ";
    if (code == 0xAD) return "";  // a soft hyphen is not seen
    if (code < 0x80) return {char(code)};
    if (code < 0x100) return {char(0xC0 | (code >> 6)), char(0x80 | (code & 0x3F))};
    if ((code >= 0x2010 && code <= 0x2015) || code == 0x2212) return "-";
    if (code == 0x2018 || code == 0x2019) return "'";
    if (code >= 0x201C && code <= 0x201E) return "\"";
    if (code == 0x2026) return "...";
    return "?";
}

}  // namespace

std::string printable(std::string_view utf8) {
    std::string out;
    for (std::size_t at = 0; at < utf8.size();) {
        const auto code = next_character(utf8, at);
        out += code ? plain_form(*code) : "?";
    }
    return out;
}

int character_count(std::string_view utf8) {
    int count = 0;
    for (const char c : utf8) count += (static_cast<unsigned char>(c) & 0xC0) != 0x80;
    return count;
}

std::string shortened(const std::string& text, int characters) {
    if (character_count(text) <= characters) return text;
    std::size_t at = 0;
    for (int i = 0; i < characters - 3 && at < text.size(); ++i) next_character(text, at);
    while (at > 0 && text[at - 1] == ' ') --at;
    return text.substr(0, at) + "...";
}

}  // namespace boxroom
