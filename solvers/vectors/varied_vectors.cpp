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
    double *lower, *own, *row[2], *x;
    BOXROOM_INLINE double* at(int i, int k) const {
        return lower + 2 * doubles * (i * (i + 1) / 2 + k);
    }
};

BOXROOM_INLINE double* nth(double* at, int n) {
    return at + 2 * doubles * n;
}

/// What A is from there on.
template <int rows, int columns>
BOXROOM_INLINE void entries(const VariedSystems& s, int i, int k, int lane,
                            Complex (&a)[rows][columns]) {
    const double* part[rows][columns];
    for (int r = 0; r < rows; ++r)
        for (int c = 0; c < columns; ++c) {
            part[r][c] = s.part + ((i + r) * (i + r + 1) / 2 + k + c) * s.parts;
            a[r][c] = {Doubles{}, Doubles{}};
        }
    for (int p = 0; p < s.parts; ++p) {
        const Doubles re = load<Doubles>(s.scale_re + p * lanes + lane),
                      im = load<Doubles>(s.scale_im + p * lanes + lane);
        for (int r = 0; r < rows; ++r)
            for (int c = 0; c < columns; ++c)
                a[r][c].re += part[r][c][p] * re, a[r][c].im += part[r][c][p] * im;
    }
}

/// Rows i .. i + rows - 1 of A, less what the rows before them take, as L and D: rows k of L D are
/// needed here alone. Two rows by two columns at a time, since what takes long is to load.
template <int rows>
BOXROOM_INLINE void eliminate_rows(const VariedSystems& s, const Work& w, int i, int lane) {
    for (int k = 0; k < i; k += 2) {
        Complex a[rows][2];
        entries(s, i, k, lane, a);
        for (int m = 0; m < k; ++m) {
            const Complex first = load_pair(w.at(k, m)), second = load_pair(w.at(k + 1, m));
            for (int r = 0; r < rows; ++r) {
                const Complex row = load_pair(nth(w.row[r], m));
                a[r][0] = a[r][0] - row * first;
                a[r][1] = a[r][1] - row * second;
            }
        }
        const Complex across = load_pair(w.at(k + 1, k));
        for (int r = 0; r < rows; ++r) {
            a[r][1] = a[r][1] - a[r][0] * across;
            for (int c = 0; c < 2; ++c) {
                store_pair(nth(w.row[r], k + c), a[r][c]);
                store_pair(w.at(i + r, k + c), a[r][c] * load_pair(nth(w.own, k + c)));
            }
        }
    }
    for (int r = 0; r < rows; ++r)
        for (int k = i; k <= i + r; ++k) {
            Complex here[1][1];
            entries(s, i + r, k, lane, here);
            Complex a = here[0][0];
            for (int m = 0; m < k; ++m) a = a - load_pair(nth(w.row[r], m)) * load_pair(w.at(k, m));
            if (k < i + r) {
                store_pair(nth(w.row[r], k), a);
                store_pair(w.at(i + r, k), a * load_pair(nth(w.own, k)));
            } else {
                store_pair(nth(w.own, k), Complex{all(1.0), Doubles{}} / a);
            }
        }
}

/// x of some receivers: forwards, by D, backwards.
template <int count>
BOXROOM_INLINE void substitute(const VariedSystems& s, const Work& w, int receiver, int lane) {
    const int columns = s.receivers + s.sources;
    const auto x = [&](int c, int i) { return nth(w.x, i * count + c); };
    for (int i = 0; i < s.size; ++i) {
        Complex b[count];
        for (int c = 0; c < count; ++c)
            b[c] = {load<Doubles>(s.load + (i * columns + receiver + c) * lanes + lane), Doubles{}};
        for (int k = 0; k < i; ++k) {
            const Complex l = load_pair(w.at(i, k));
            for (int c = 0; c < count; ++c) b[c] = b[c] - l * load_pair(x(c, k));
        }
        for (int c = 0; c < count; ++c) store_pair(x(c, i), b[c]);
    }
    for (int i = s.size; i-- > 0;) {
        Complex b[count];
        for (int c = 0; c < count; ++c) b[c] = load_pair(x(c, i)) * load_pair(nth(w.own, i));
        for (int k = i + 1; k < s.size; ++k) {
            const Complex l = load_pair(w.at(k, i));
            for (int c = 0; c < count; ++c) b[c] = b[c] - l * load_pair(x(c, k));
        }
        for (int c = 0; c < count; ++c) store_pair(x(c, i), b[c]);
    }
    for (int c = 0; c < count; ++c)
        for (int from = 0; from < s.sources; ++from) {
            Complex sum{Doubles{}, Doubles{}};
            for (int i = 0; i < s.size; ++i) {
                const double* load_at = s.load + (i * columns + s.receivers + from) * lanes;
                sum = sum + load<Doubles>(load_at + lane) * load_pair(x(c, i));
            }
            const int to = ((receiver + c) * s.sources + from) * lanes + lane;
            store(s.out_re + to, sum.re), store(s.out_im + to, sum.im);
        }
}

void solve(const VariedSystems& s) {
    for (int lane = 0; lane < lanes; lane += doubles) {
        Work w{s.scratch, nullptr, {}, nullptr};
        w.own = w.at(s.size, 0);
        w.row[0] = nth(w.own, s.size), w.row[1] = nth(w.row[0], s.size);
        w.x = nth(w.row[1], s.size);
        int i = 0;
        for (; i + 2 <= s.size; i += 2) eliminate_rows<2>(s, w, i, lane);
        if (i < s.size) eliminate_rows<1>(s, w, i, lane);
        int r = 0;
        for (; r + 4 <= s.receivers; r += 4) substitute<4>(s, w, r, lane);
        if (s.receivers - r == 3) substitute<3>(s, w, r, lane);
        if (s.receivers - r == 2) substitute<2>(s, w, r, lane);
        if (s.receivers - r == 1) substitute<1>(s, w, r, lane);
    }
}

}  // namespace

extern const VariedVectors varied_vectors;
const VariedVectors varied_vectors{solve};

}  // namespace boxroom::BOXROOM_VECTORS
