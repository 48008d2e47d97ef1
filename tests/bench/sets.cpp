// How fast sets of spots are judged. Prints seat-frequency points a second: each is an addition, a
// magnitude and a logarithm, and everything else the criteria take is in the time.
#include <chrono>
#include <complex>
#include <cstdio>
#include <ctime>
#include <random>

#include "placement/set_search.hpp"

using namespace boxroom;

namespace {

double now() {
    return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch())
        .count();
}

void run(int spots, int subs, int seats, int frequencies) {
    std::vector<double> frequency;
    for (int n = 0; n < frequencies; ++n) frequency.push_back(20 * std::exp2(n / 48.0));
    std::vector<Seat> listeners(seats, Seat{"", {}, 1});
    Target target;
    target.band = {frequency.front(), frequency.back()};
    const Judge judge(frequency, listeners, target);
    TransferImpedance<float> z(frequency.size(), seats, spots);
    std::mt19937 random(1);
    std::normal_distribution<float> normal;
    for (auto& value : z.value) value = {normal(random), normal(random)};
    std::vector<int> all;
    SetRules rules;
    rules.clash.assign(static_cast<std::size_t>(spots) * spots, 0);
    rules.first.assign(spots, 1);
    for (int n = 0; n < spots; ++n) all.push_back(n), rules.cell.push_back(n);
    const SetKernel kernel(judge, z, std::vector<double>(frequency.size(), 1.0), all);
    double best = 1e9, best_processor = 1e9, sets = 1;
    for (int k = 0; k < subs; ++k) sets *= static_cast<double>(spots - k) / (k + 1);
    for (int round = 0; round < 5; ++round) {
        const double start = now();
        const std::clock_t began = std::clock();
        const auto found = search_sets(kernel, rules, {}, subs);
        if (!found.exhaustive) std::printf("not every set was looked at\n");
        best = std::min(best, now() - start);
        best_processor =
            std::min(best_processor, static_cast<double>(std::clock() - began) / CLOCKS_PER_SEC);
    }
    const double points = sets * seats * frequencies;
    std::printf(
        "%8.0f sets of %d out of %d spots, %d seats, %d frequencies: %.3f s, %.2e points a second; "
        "%.2e a processor second\n",
        sets, subs, spots, seats, frequencies, best, points / best, points / best_processor);
}

}  // namespace

int main() {
    run(400, 2, 6, 160);
    run(64, 4, 6, 160);
    run(64, 4, 3, 96);
}
