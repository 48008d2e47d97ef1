#pragma once
#include <sys/types.h>

#include <filesystem>
#include <string>
#include <utility>
#include <vector>

#include "files/manifest.hpp"
#include "files/staging.hpp"
#include "files/written_mark.hpp"

namespace boxroom {

/// The files that a run reads, known by device and inode: a hard link, a symbolic link or the same
/// path written otherwise is the same file.
class InputFiles {
  public:
    void add(const std::filesystem::path& path);
    bool hold(const std::filesystem::path& path) const;

  private:
    std::vector<std::pair<dev_t, ino_t>> files_;
};

/// What stands where an output is to go.
enum class Standing {
    nothing,
    input,  ///< a file that this run reads
    folder,
    link,     ///< a symbolic link: whoever made it may want it kept
    special,  ///< a device, a pipe, a socket
    ours,     ///< this program wrote it
    changed,  ///< this program wrote it, but it is no longer as it was
    foreign,  ///< anything else
};

/// `listed` is the manifest's entry for the file, or null. A listed file is ours as long as its
/// hash is the listed one; a file that is not listed is ours where it carries our mark. A results
/// file (HDF5) is ours by its mark in either case: nobody edits it, and a damaged one is to be
/// written anew.
Standing standing_at(const std::filesystem::path& path, const InputFiles& inputs,
                     const ListedFile* listed);
/// Throws Error, saying what stands in the way, unless nothing does or what does is ours.
void require_free(const std::filesystem::path& path, Standing standing, const std::string& mend);

/// Writes one file that belongs to no results folder: a picture or a recording, or what the window
/// saves. It appears whole or not at all. Throws Error where something stands in the way that is
/// not ours, of the same kind, and outside any folder's manifest; WriteFailure where the disk
/// fails.
void write_output(const std::filesystem::path& path, const std::string& bytes,
                  const InputFiles& inputs);
/// The first part of that, for a command that works long before it writes.
void require_free_output(const std::filesystem::path& path, MarkedKind kind,
                         const InputFiles& inputs);
/// The same, and a hidden folder beside the file-to-be, for a library that wants a path to write
/// to.
Staging output_staging(const std::filesystem::path& path, MarkedKind kind,
                       const InputFiles& inputs);

}  // namespace boxroom
