#pragma once
#include <filesystem>

namespace boxroom {

/// A file that appears whole or not at all: write to temporary(), then commit(). Until then a file
/// that already stood at `path` is untouched; without commit() the temporary file is removed.
class WholeFile {
  public:
    /// Makes the folder if it is missing. Throws Error if that is impossible.
    explicit WholeFile(const std::filesystem::path& path);
    WholeFile(const WholeFile&) = delete;
    WholeFile& operator=(const WholeFile&) = delete;
    ~WholeFile();

    /// A path in the same folder (a rename across file systems would copy, and so could be cut
    /// short).
    const std::filesystem::path& temporary() const { return temporary_; }
    /// Brings the bytes to the disk, then renames. Throws Error if either fails.
    void commit();

  private:
    std::filesystem::path path_, temporary_;
    bool committed_ = false;
};

}  // namespace boxroom
