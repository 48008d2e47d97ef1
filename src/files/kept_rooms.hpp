#pragma once
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>

#include "base/pieces.hpp"

namespace boxroom {

/// Solved rooms in the user's cache folder, a file each, named after the hash of what it depends
/// on. Nothing here ever fails aloud: what cannot be read, is damaged, or belongs to another key is
/// as if it were not there, and what cannot be written is not kept.
class KeptRooms {
  public:
    /// $XDG_CACHE_HOME/boxroom or ~/.cache/boxroom (XDG Base Directory Specification 0.8); empty
    /// where there is neither.
    static std::filesystem::path usual_folder();

    /// Beyond `most` bytes in all the files that were used longest ago go.
    explicit KeptRooms(std::filesystem::path folder, std::uintmax_t most = 400'000'000)
        : folder_(std::move(folder)), most_(most) {}

    /// What was written under the key last, whole and as it was.
    std::optional<std::string> read(const std::string& key) const;
    /// Whole or not at all: under another name first, then renamed, so that two runs at once do no
    /// harm.
    void write(const std::string& key, const Pieces& bytes) const;

  private:
    std::filesystem::path path_of(const std::string& key) const;
    void make_room() const;
    std::filesystem::path folder_;
    std::uintmax_t most_;
};

}  // namespace boxroom
