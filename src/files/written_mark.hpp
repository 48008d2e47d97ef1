#pragma once
#include <string>
#include <string_view>

namespace boxroom {

/// The kinds of files that say inside who wrote them. CSV and JSON have no place for it: of those
/// only a folder's manifest knows.
enum class MarkedKind {
    none,       ///< another program's file, or a kind without a mark
    png,        ///< tEXt chunk "Software" (PNG Specification, section 11.3.4.3)
    svg,        ///< comment
    html,       ///< <meta name="generator"> (HTML Living Standard, section 4.2.5.1)
    vti,        ///< comment
    hdf5,       ///< the seal in the user block (files/hdf5_seal.hpp)
    recording,  ///< a line "# written by boxroom" below the first
};

/// What this program wrote, by the first bytes of a file; `none` for all else.
MarkedKind marked_kind(std::string_view beginning);
/// How many bytes of a file `marked_kind` looks at.
inline constexpr std::size_t mark_reach = 4096;
/// A recording of VTK's with the mark put in; the player skips it as a comment.
std::string marked_recording(const std::string& recorded);

}  // namespace boxroom
