#pragma once
#include <filesystem>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace boxroom {

/// The disk is full, broken or out of reach: nothing in the user's file is wrong, so no Error, and
/// the program ends with status 1. The text is one sentence with the file, the cause and the mend.
class WriteFailure : public std::runtime_error {
  public:
    WriteFailure(const std::filesystem::path& path, int error_number);
};

/// A lock on a folder for as long as it lives (flock on the folder itself, so it leaves no file and
/// dies with the process). Where the file system knows no such lock, `held` is false.
class FolderLock {
  public:
    enum class Patience {
        none,  ///< held or not, at once
        some,  ///< waits for another run to finish its renames; throws Error after ten seconds
    };
    FolderLock(const std::filesystem::path& folder, Patience patience);
    FolderLock(FolderLock&& other) noexcept;
    FolderLock& operator=(FolderLock&&) = delete;
    ~FolderLock();
    bool held() const { return held_; }
    /// Brings to the disk what was renamed or removed in the folder.
    void sync() const;

  private:
    int descriptor_ = -1;
    bool held_ = false;
};

/// A Staging that holds a file of this name is a whole set that only wants to be moved into place
/// (files/results_folder.hpp); until that is done it is not swept away.
inline constexpr const char* whole_set = "whole_set.json";

/// A hidden folder `.boxroom-unfinished-XXXXXX` beside the files to come. They are written there
/// and then renamed into place: a rename within a file system is whole or not at all. Held by a
/// lock, so that the next run can tell what a killed one left behind. Removed in the end with all
/// in it.
class Staging {
  public:
    /// Throws Error if nothing can be made in `folder`, which must exist.
    explicit Staging(const std::filesystem::path& folder);
    Staging(Staging&& other) noexcept;
    Staging& operator=(Staging&&) = delete;
    ~Staging();

    /// Throws WriteFailure. Nothing may stand under that name yet.
    void write(const std::string& name, std::string_view bytes) const;
    /// Waits until all that was written is on the disk. Throws WriteFailure. Once for all files:
    /// waiting after each costs as many turns of the disk's journal.
    void sync() const;
    bool has(const std::string& name) const;
    /// Renames a file from here to `place`, whatever stands there. Throws WriteFailure.
    void move_out(const std::string& name, const std::filesystem::path& place) const;
    const std::filesystem::path& path() const { return path_; }
    /// Lets it stand when this object goes, or not.
    void keep(bool kept);

    /// What killed runs left in `folder`; each is removed with its object unless it is kept.
    static std::vector<Staging> left_behind(const std::filesystem::path& folder);

  private:
    /// A hidden folder that exists, and the lock on it.
    Staging(std::filesystem::path path, FolderLock lock)
        : path_(std::move(path)), lock_(std::move(lock)) {}
    static Staging make(const std::filesystem::path& folder, const FolderLock& guard);

    std::filesystem::path path_;
    FolderLock lock_;
    bool kept_ = false;
};

/// Whether a folder's name is one of Staging's.
bool is_staging(const std::filesystem::path& folder);

/// Throws Error where a file stands at the folder's name or on the way to it.
void require_no_file_in_the_way(const std::filesystem::path& folder);

/// Makes the folder and those above it. Throws Error if that cannot be.
void make_folder(const std::filesystem::path& folder);

}  // namespace boxroom
