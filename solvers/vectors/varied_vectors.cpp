// Compiled once for each set of vector instructions: see base/lanes.hpp for what it may read.
#include "solvers/varied_vectors.hpp"

#include "base/lanes.hpp"

namespace boxroom::BOXROOM_VECTORS {
namespace {

using Complex = Complexes<Doubles>;

constexpr int lanes = VariedSystems::lanes;

BOXROOM_INLINE Complex load_pair(const double* at) {
    return {load<Doubles>(at), load<Doubles>(at + doubles)};
}
BOXROOM_INLINE void store_pair(double* at, Complex z) {
    store(at, z.re), store(at + doubles, z.im);
}

/// What the lanes from `lane` on work with: real and imaginary parts side by side.
struct Work {
    double *lower, *own, *row, *x;
    BOXROOM_INLINE double* at(int i, int k) const {
        return lower + 2 * doubles * (i * (i + 1) / 2 + k);
    }
};

/// Row i of A, less what the rows before it take, as L and D: row k of L D is needed once.
BOXROOM_INLINE void eliminate_row(const VariedSystems& s, const Work& w, int i, int lane) {
    for (int k = 0; k <= i; ++k) {
        const double* part = s.part + (i * (i + 1) / 2 + k) * s.parts;
        Complex a{Doubles{}, Doubles{}};
        for (int p = 0; p < s.parts; ++p) {
            a.re += part[p] * load<Doubles>(s.scale_re + p * lanes + lane);
            a.im += part[p] * load<Doubles>(s.scale_im + p * lanes + lane);
        }
        for (int m = 0; m < k; ++m)
            a = a - load_pair(w.row + 2 * doubles * m) * load_pair(w.at(k, m));
        if (k < i) {
            store_pair(w.row + 2 * doubles * k, a);
            store_pair(w.at(i, k), a * load_pair(w.own + 2 * doubles * k));
        } else {
            store_pair(w.own + 2 * doubles * i, Complex{all(1.0), Doubles{}} / a);
        }
    }
}

/// x of one receiver: forwards, by D, backwards.
BOXROOM_INLINE void substitute(const VariedSystems& s, const Work& w, int receiver, int lane) {
    const int columns = s.receivers + s.sources;
    for (int i = 0; i < s.size; ++i) {
        Complex b{load<Doubles>(s.load + (i * columns + receiver) * lanes + lane), Doubles{}};
        for (int k = 0; k < i; ++k)
            b = b - load_pair(w.at(i, k)) * load_pair(w.x + 2 * doubles * k);
        store_pair(w.x + 2 * doubles * i, b);
    }
    for (int i = 0; i < s.size; ++i) {
        double* at = w.x + 2 * doubles * i;
        store_pair(at, load_pair(at) * load_pair(w.own + 2 * doubles * i));
    }
    for (int i = s.size; i-- > 1;) {
        const Complex x = load_pair(w.x + 2 * doubles * i);
        for (int k = 0; k < i; ++k) {
            double* at = w.x + 2 * doubles * k;
            store_pair(at, load_pair(at) - load_pair(w.at(i, k)) * x);
        }
    }
}

void solve(const VariedSystems& s) {
    const int columns = s.receivers + s.sources;
    for (int lane = 0; lane < lanes; lane += doubles) {
        const int pairs = 2 * doubles * s.size;
        Work w{s.scratch, nullptr, nullptr, nullptr};
        w.own = w.at(s.size, 0), w.row = w.own + pairs, w.x = w.row + pairs;
        for (int i = 0; i < s.size; ++i) eliminate_row(s, w, i, lane);
        for (int r = 0; r < s.receivers; ++r) {
            substitute(s, w, r, lane);
            for (int from = 0; from < s.sources; ++from) {
                Complex sum{Doubles{}, Doubles{}};
                for (int i = 0; i < s.size; ++i) {
                    const double* load_at = s.load + (i * columns + s.receivers + from) * lanes;
                    sum = sum + load<Doubles>(load_at + lane) * load_pair(w.x + 2 * doubles * i);
                }
                const int to = (r * s.sources + from) * lanes + lane;
                store(s.out_re + to, sum.re), store(s.out_im + to, sum.im);
            }
        }
    }
}

}  // namespace

extern const VariedVectors varied_vectors;
const VariedVectors varied_vectors{solve};

}  // namespace boxroom::BOXROOM_VECTORS
