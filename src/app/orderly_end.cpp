#include "app/orderly_end.hpp"

#include <csignal>
#include <cstdio>
#include <thread>

#include "files/unfinished.hpp"

namespace boxroom {
namespace {

const char* name_of(int signal) {
    return signal == SIGINT ? "SIGINT" : signal == SIGTERM ? "SIGTERM" : "SIGHUP";
}

void wait_for(sigset_t ends) {
    int signal = 0;
    if (sigwait(&ends, &signal) != 0) return;
    Unfinished::work().take_away();
    std::fprintf(stderr, "boxroom was stopped by %s: what it had begun to write is taken away\n",
                 name_of(signal));
    std::signal(signal, SIG_DFL);
    pthread_sigmask(SIG_UNBLOCK, &ends, nullptr);
    std::raise(signal);
}

}  // namespace

void end_in_order_on_signals() {
    sigset_t ends;
    sigemptyset(&ends);
    for (const int signal : {SIGINT, SIGTERM, SIGHUP}) {
        struct sigaction before {};
        sigaction(signal, nullptr, &before);
        if (before.sa_handler != SIG_IGN) sigaddset(&ends, signal);
    }
    pthread_sigmask(SIG_BLOCK, &ends, nullptr);  // and so in all threads that this one begins
    std::thread(wait_for, ends).detach();
}

}  // namespace boxroom
