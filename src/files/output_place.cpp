#include "files/output_place.hpp"

#include <sys/stat.h>

#include <fstream>
#include <optional>

#include "base/error.hpp"
#include "files/sha256.hpp"

namespace boxroom {

namespace fs = std::filesystem;

namespace {

std::optional<std::pair<dev_t, ino_t>> identity(const fs::path& path) {
    struct stat what {};
    if (::stat(path.c_str(), &what) != 0) return std::nullopt;
    return std::pair{what.st_dev, what.st_ino};
}

MarkedKind kind_of_file(const fs::path& path) {
    std::string beginning(mark_reach, '\0');
    std::ifstream file(path, std::ios::binary);
    file.read(beginning.data(), static_cast<std::streamsize>(beginning.size()));
    beginning.resize(static_cast<std::size_t>(file.gcount()));
    return marked_kind(beginning);
}

}  // namespace

void InputFiles::add(const fs::path& path) {
    if (const auto file = identity(path)) files_.push_back(*file);
}

bool InputFiles::hold(const fs::path& path) const {
    const auto file = identity(path);
    for (const auto& input : files_)
        if (file && *file == input) return true;
    return false;
}

Standing standing_at(const fs::path& path, const InputFiles& inputs, const ListedFile* listed) {
    if (inputs.hold(path)) return Standing::input;
    std::error_code failure;
    const fs::file_status what = fs::symlink_status(path, failure);
    switch (what.type()) {
        case fs::file_type::none:  // cannot be asked: the writing itself will say why
        case fs::file_type::not_found:
            return Standing::nothing;
        case fs::file_type::directory:
            return Standing::folder;
        case fs::file_type::symlink:
            return Standing::link;
        case fs::file_type::regular:
            break;
        default:
            return Standing::special;
    }
    const MarkedKind kind = kind_of_file(path);
    if (kind == MarkedKind::hdf5) return Standing::ours;
    if (listed) return sha256_of_file(path) == listed->sha256 ? Standing::ours : Standing::changed;
    return kind == MarkedKind::none ? Standing::foreign : Standing::ours;
}

void require_free(const fs::path& path, Standing standing, const std::string& mend) {
    const char* what = nullptr;
    switch (standing) {
        case Standing::nothing:
        case Standing::ours:
            return;
        case Standing::input:
            what = "this run reads that very file, so nothing is written over it";
            break;
        case Standing::folder:
            what = "a folder of that name stands in the way";
            break;
        case Standing::link:
            what = "a symbolic link stands in the way, and links are left alone";
            break;
        case Standing::special:
            what = "this is a device, a pipe or a socket and no ordinary file";
            break;
        case Standing::changed:
            what = "this file was changed since boxroom wrote it, so it is left alone";
            break;
        case Standing::foreign:
            what = "a file that boxroom did not write stands in the way and is left alone";
            break;
    }
    throw Error(path.string(), what, mend);
}

void require_free_output(const fs::path& path, MarkedKind kind, const InputFiles& inputs) {
    constexpr const char* mend = "choose another name, or move it away";
    if (!path.has_filename() || path.filename() == "." || path.filename() == "..")
        throw Error(path.string(), "this names a folder, but one file is to be written",
                    "write a file's name behind it");
    std::error_code none;
    if (fs::symlink_status(path, none).type() == fs::file_type::none)
        throw Error(path.string(), "no file can stand there (" + none.message() + ")",
                    "choose another name");
    require_free(path, standing_at(path, inputs, nullptr), mend);
    if (!fs::exists(path, none)) return;
    if (kind_of_file(path) != kind)
        throw Error(path.string(), "a file of another kind stands in the way and is left alone",
                    mend);
    if (is_listed(path))
        throw Error(path.string(), "this file belongs to the results in its folder", mend);
}

Staging output_staging(const fs::path& path, MarkedKind kind, const InputFiles& inputs) {
    require_free_output(path, kind, inputs);
    const fs::path folder = path.has_parent_path() ? path.parent_path() : fs::path(".");
    make_folder(folder);
    return Staging(folder);
}

void write_output(const fs::path& path, const std::string& bytes, const InputFiles& inputs) {
    const Staging staging = output_staging(path, marked_kind(bytes), inputs);
    staging.write(path.filename().string(), bytes);
    staging.sync();
    staging.move_out(path.filename().string(), path);
}

}  // namespace boxroom
