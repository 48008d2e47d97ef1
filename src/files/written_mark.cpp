#include "files/written_mark.hpp"

#include <cstdint>

namespace boxroom {

namespace {

constexpr std::string_view png_signature{"\x89PNG\r\n\x1a\n", 8};
constexpr std::string_view comment = "<!-- written by boxroom";
constexpr std::string_view recording_line = "# written by boxroom\n";

/// A PNG is a row of chunks: length, name, data, checksum; the texts stand before the picture.
bool png_is_ours(std::string_view bytes) {
    constexpr std::string_view text{"Software\0boxroom", 16};
    std::size_t at = png_signature.size();
    while (at + 8 <= bytes.size()) {
        std::uint32_t length = 0;
        for (int i = 0; i < 4; ++i)
            length = length << 8 | static_cast<unsigned char>(bytes[at + i]);
        const std::string_view name = bytes.substr(at + 4, 4);
        if (name == "IDAT") return false;
        if (name == "tEXt" && bytes.substr(at + 8).starts_with(text)) return true;
        at += 12 + std::size_t(length);
    }
    return false;
}

}  // namespace

MarkedKind marked_kind(std::string_view bytes) {
    bytes = bytes.substr(0, mark_reach);
    const auto says = [&](std::string_view words) { return bytes.find(words) != bytes.npos; };
    if (bytes.starts_with(png_signature))
        return png_is_ours(bytes) ? MarkedKind::png : MarkedKind::none;
    if (bytes.starts_with("boxroom results: ")) return MarkedKind::hdf5;
    if (bytes.starts_with("<!doctype html") && says("<meta name=\"generator\" content=\"boxroom"))
        return MarkedKind::html;
    if (bytes.starts_with("<svg") && says(comment)) return MarkedKind::svg;
    if (bytes.starts_with("<?xml") && says("<VTKFile") && says(comment)) return MarkedKind::vti;
    if (bytes.starts_with("# StreamVersion") &&
        bytes.substr(bytes.find('\n') + 1).starts_with(recording_line))
        return MarkedKind::recording;
    return MarkedKind::none;
}

std::string marked_recording(const std::string& recorded) {
    const std::size_t line = recorded.find('\n');
    if (line == std::string::npos) return recorded;
    return recorded.substr(0, line + 1) + std::string(recording_line) + recorded.substr(line + 1);
}

}  // namespace boxroom
