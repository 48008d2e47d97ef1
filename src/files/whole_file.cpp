#include "files/whole_file.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <string>
#include <system_error>

#include "base/error.hpp"

namespace boxroom {

namespace fs = std::filesystem;

WholeFile::WholeFile(const fs::path& path) : path_(path), temporary_(path) {
    temporary_ += ".part" + std::to_string(::getpid());
    std::error_code failure;
    const fs::path folder = path.parent_path();
    if (!folder.empty()) fs::create_directories(folder, failure);
    // What counts is that the folder is there, not who made it.
    if (!folder.empty() && !fs::is_directory(folder))
        throw Error(path.string(),
                    "the folder " + folder.string() + " cannot be made" +
                        (failure ? " (" + failure.message() + ")" : ""),
                    "choose another folder with --out");
}

WholeFile::~WholeFile() {
    std::error_code ignored;
    if (!committed_) fs::remove(temporary_, ignored);
}

void WholeFile::commit() {
    const int descriptor = ::open(temporary_.c_str(), O_RDONLY | O_CLOEXEC);
    int failure = descriptor < 0 ? errno : 0;
    if (descriptor >= 0) {
        // Some file systems cannot sync (EINVAL); a full disk or a broken one (EIO) must be heard.
        if (::fsync(descriptor) != 0 && errno != EINVAL) failure = errno;
        ::close(descriptor);
    }
    std::error_code code(failure, std::generic_category());
    if (!failure) fs::rename(temporary_, path_, code);
    if (code)
        throw Error(path_.string(), "the file cannot be written (" + code.message() + ")",
                    "check that the disk has room and that the folder may be written, or choose "
                    "another folder with --out");
    committed_ = true;
}

}  // namespace boxroom
