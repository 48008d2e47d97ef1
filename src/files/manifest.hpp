#pragma once
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace boxroom {

/// A file of a results folder. `run` names the run that wrote it. Files of one `set` belong
/// together: a run that writes a set replaces the whole of it, so that no drawing of an old box
/// stays beside those of a new one.
struct ListedFile {
    std::string name, sha256, run, set;
};

/// What a results folder holds: manifest.json = {run, files: [{name, sha256, run, set}]}, sorted by
/// name. Taken away before a run touches the folder and written last, so a folder that has one is
/// whole. `run` at the top is the last run; other commands' files stand beside its own.
struct Manifest {
    std::string run;
    std::vector<ListedFile> files;

    /// Null if there is none of that name.
    const ListedFile* find(const std::string& name) const;
};

inline constexpr const char* manifest_name = "manifest.json";

std::string manifest_text(const Manifest& manifest);
/// Nothing if the text is no manifest of ours: a wrong shape, a hash that is none, or a name that
/// leads out of the folder.
std::optional<Manifest> parse_manifest(const std::string& text);
/// The folder's; nothing if it has none. Throws Error if another program's file has that name.
std::optional<Manifest> read_manifest(const std::filesystem::path& folder);

/// Whether the folder still holds the file as it is listed.
bool is_as_listed(const std::filesystem::path& folder, const ListedFile& file);
/// Whether the manifest beside this file, if there is one, lists it.
bool is_listed(const std::filesystem::path& file);
/// For whoever reads a file of a results folder: throws Error if the manifest beside it lists
/// another content.
void require_as_listed(const std::filesystem::path& file);

}  // namespace boxroom
