// boxroom: which closed box, standing where, for these seats in this room?
#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <cstdio>
#include <cstring>

#include "app/command_line.hpp"
#include "app/kept_memory.hpp"
#include "app/orderly_end.hpp"
#include "app/thread_bound.hpp"

namespace {

/// A standard stream that is closed would give its number to the next file that is opened, and what
/// is said would end up in there. It gets one that nothing can be read from or written to.
void hold_standard_streams() {
    for (const int stream : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO})
        if (::fcntl(stream, F_GETFD) < 0)
            ::open("/dev/null", stream == STDIN_FILENO ? O_WRONLY : O_RDONLY);
    std::signal(SIGPIPE, SIG_IGN);  // a reader that has gone, and a limit on the size of files,
    std::signal(SIGXFSZ, SIG_IGN);  // are errors that a sentence can be said about
}

/// An answer that is lost is a failure, whatever was worked out.
int say(const std::string& text) {
    if (std::fwrite(text.data(), 1, text.size(), stdout) == text.size() && std::fflush(stdout) == 0)
        return 0;
    std::fprintf(stderr, "boxroom failed: the answer cannot be written to standard output (%s)\n",
                 std::strerror(errno));
    return 1;
}

}  // namespace

int main(int argc, char** argv) {
    boxroom::keep_freed_memory();
    hold_standard_streams();
    boxroom::bound_threads(argv);
    boxroom::end_in_order_on_signals();
    return boxroom::run_command_line(argc, argv, say);
}
