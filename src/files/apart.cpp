#include "files/apart.hpp"

#include <fcntl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <csignal>
#include <cstdio>
#include <cstring>
#include <stdexcept>
#include <string_view>

#include "files/write_all.hpp"

namespace boxroom {

namespace {

constexpr rlim_t memory_beyond = 1 << 30;  ///< [bytes]
constexpr rlim_t processor = 20;           ///< [s]
constexpr unsigned clock_at_most = 60;     ///< [s], for what waits and computes nothing

constexpr int finished = 33;  ///< the child's status; a library that ends the program says 0 or 1

/// Bytes of address space that this process has.
rlim_t present_size() {
    unsigned long pages = 0;
    if (std::FILE* file = std::fopen("/proc/self/statm", "r")) {
        if (std::fscanf(file, "%lu", &pages) != 1) pages = 0;
        std::fclose(file);
    }
    return pages * static_cast<rlim_t>(::sysconf(_SC_PAGESIZE));
}

void limit(int what, rlim_t most) {
    rlimit now{};
    if (::getrlimit(static_cast<__rlimit_resource_t>(what), &now) != 0) return;
    now.rlim_cur = now.rlim_max == RLIM_INFINITY ? most : std::min(most, now.rlim_max);
    ::setrlimit(static_cast<__rlimit_resource_t>(what), &now);
}

/// It ends like any program on a signal, and without a word, a core or a file.
void confine() {
    for (const int signal : {SIGINT, SIGTERM, SIGHUP, SIGALRM, SIGXCPU, SIGPIPE})
        std::signal(signal, SIG_DFL);
    sigset_t none;
    sigemptyset(&none);
    ::sigprocmask(SIG_SETMASK, &none, nullptr);
    const int nowhere = ::open("/dev/null", O_RDWR);
    for (const int stream : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO}) ::dup2(nowhere, stream);
    limit(RLIMIT_CORE, 0);
    limit(RLIMIT_FSIZE, 0);
    limit(RLIMIT_CPU, processor);
    limit(RLIMIT_AS, present_size() + memory_beyond);
    ::alarm(clock_at_most);
}

/// What comes out of the pipe until it is shut; one byte too many ends it as well.
std::string read_all(int pipe, std::size_t most) {
    std::string all;
    std::array<char, 65536> piece{};
    while (all.size() <= most) {
        const ssize_t got = ::read(pipe, piece.data(), piece.size());
        if (got < 0 && errno == EINTR) continue;
        if (got <= 0) break;
        all.append(piece.data(), static_cast<std::size_t>(got));
    }
    return all;
}

[[noreturn]] void child(const std::function<std::string()>& work, int pipe) {
    confine();
    int status = 1;
    try {
        if (write_all(pipe, work()) == 0) status = finished;
    } catch (...) {  // of whatever kind: the parent sees that it is not done
    }
    ::_exit(status);  // nothing of the parent's is flushed, closed or taken away
}

}  // namespace

std::optional<std::string> worked_out_apart(const std::function<std::string()>& work,
                                            std::size_t most) {
    std::array<int, 2> pipe{};
    if (::pipe2(pipe.data(), O_CLOEXEC) != 0)
        throw std::runtime_error(std::string("no pipe can be made: ") + std::strerror(errno));
    const pid_t process = ::fork();
    if (process == 0) child(work, pipe[1]);
    const int failure = errno;
    ::close(pipe[1]);
    if (process < 0) {
        ::close(pipe[0]);
        throw std::runtime_error(std::string("no process can be started: ") +
                                 std::strerror(failure));
    }
    std::string bytes = read_all(pipe[0], most);
    ::close(pipe[0]);
    if (bytes.size() > most) ::kill(process, SIGKILL);
    int status = 0;
    while (::waitpid(process, &status, 0) < 0 && errno == EINTR) {
    }
    if (bytes.size() > most || !WIFEXITED(status) || WEXITSTATUS(status) != finished)
        return std::nullopt;
    return bytes;
}

}  // namespace boxroom
