#pragma once
// What this project uses of C++20's library and libc++ 14 lacks, which Debian's Emscripten 3.1.6
// carries: read before every source of the page's engine, never by the native build. Algorithms over
// ranges call their elders on iterators ([alg.req.general] of the standard).
#include <version>
#if defined(_LIBCPP_VERSION) && _LIBCPP_VERSION < 15000
#include <algorithm>
#include <cerrno>
#include <charconv>
#include <cstdlib>
#include <functional>
#include <iterator>
#include <string>
#include <utility>

namespace std::ranges {

template <typename Order, typename Of>
auto by(Order& order, Of& of) {
    return [&](auto&& a, auto&& b) -> bool {
        return std::invoke(order, std::invoke(of, a), std::invoke(of, b));
    };
}
template <typename Test, typename Of>
auto tested(Test& test, Of& of) {
    return [&](auto&& a) -> bool { return std::invoke(test, std::invoke(of, a)); };
}

template <typename R, typename Order = less, typename Of = identity>
auto sort(R&& r, Order order = {}, Of of = {}) {
    std::sort(std::begin(r), std::end(r), by(order, of));
    return std::end(r);
}
template <typename R, typename Order = less, typename Of = identity>
auto stable_sort(R&& r, Order order = {}, Of of = {}) {
    std::stable_sort(std::begin(r), std::end(r), by(order, of));
    return std::end(r);
}
template <typename R, typename Order = less, typename Of = identity>
auto min_element(R&& r, Order order = {}, Of of = {}) {
    return std::min_element(std::begin(r), std::end(r), by(order, of));
}
template <typename R, typename Order = less, typename Of = identity>
auto max_element(R&& r, Order order = {}, Of of = {}) {
    return std::max_element(std::begin(r), std::end(r), by(order, of));
}
template <typename R, typename Order = less, typename Of = identity>
auto max(R&& r, Order order = {}, Of of = {}) {
    return *std::ranges::max_element(r, order, of);
}
template <typename R, typename Order = less, typename Of = identity>
auto min(R&& r, Order order = {}, Of of = {}) {
    return *std::ranges::min_element(r, order, of);
}
template <typename R, typename T, typename Of = identity>
auto find(R&& r, const T& value, Of of = {}) {
    return std::find_if(std::begin(r), std::end(r),
                        [&](auto&& a) -> bool { return std::invoke(of, a) == value; });
}
template <typename R, typename Test, typename Of = identity>
auto find_if(R&& r, Test test, Of of = {}) {
    return std::find_if(std::begin(r), std::end(r), tested(test, of));
}
template <typename R, typename Test, typename Of = identity>
bool all_of(R&& r, Test test, Of of = {}) {
    return std::all_of(std::begin(r), std::end(r), tested(test, of));
}
template <typename R, typename Test, typename Of = identity>
bool any_of(R&& r, Test test, Of of = {}) {
    return std::any_of(std::begin(r), std::end(r), tested(test, of));
}
template <typename R, typename Test, typename Of = identity>
bool none_of(R&& r, Test test, Of of = {}) {
    return std::none_of(std::begin(r), std::end(r), tested(test, of));
}
template <typename R, typename Test, typename Of = identity>
auto count_if(R&& r, Test test, Of of = {}) {
    return std::count_if(std::begin(r), std::end(r), tested(test, of));
}
template <typename R, typename T, typename Of = identity>
auto count(R&& r, const T& value, Of of = {}) {
    return std::count_if(std::begin(r), std::end(r),
                         [&](auto&& a) -> bool { return std::invoke(of, a) == value; });
}
template <typename R, typename Do, typename Of = identity>
void for_each(R&& r, Do act, Of of = {}) {
    std::for_each(std::begin(r), std::end(r),
                  [&](auto&& a) { std::invoke(act, std::invoke(of, a)); });
}
template <typename R, typename Same = equal_to, typename Of = identity>
auto adjacent_find(R&& r, Same same = {}, Of of = {}) {
    return std::adjacent_find(std::begin(r), std::end(r), by(same, of));
}
template <typename R, typename T, typename Order = less, typename Of = identity>
auto lower_bound(R&& r, const T& value, Order order = {}, Of of = {}) {
    return std::lower_bound(
        std::begin(r), std::end(r), value,
        [&](auto&& a, const T& b) -> bool { return std::invoke(order, std::invoke(of, a), b); });
}
template <typename R, typename T, typename Order = less, typename Of = identity>
auto upper_bound(R&& r, const T& value, Order order = {}, Of of = {}) {
    return std::upper_bound(
        std::begin(r), std::end(r), value,
        [&](const T& a, auto&& b) -> bool { return std::invoke(order, a, std::invoke(of, b)); });
}
template <typename R, typename T>
auto fill(R&& r, const T& value) {
    std::fill(std::begin(r), std::end(r), value);
    return std::end(r);
}
template <typename A, typename B, typename Same = equal_to>
bool equal(A&& a, B&& b, Same same = {}) {
    return std::equal(std::begin(a), std::end(a), std::begin(b), std::end(b), same);
}
template <typename R, typename Out, typename Test>
auto copy_if(R&& r, Out out, Test test) {
    return std::copy_if(std::begin(r), std::end(r), std::move(out), test);
}
template <typename R, typename T>
void replace(R&& r, const T& was, const T& is) {
    std::replace(std::begin(r), std::end(r), was, is);
}
template <typename I>
struct rest_of_range {
    I first, last;
    I begin() const { return first; }
    I end() const { return last; }
};
template <typename R>
auto unique(R&& r) {
    return rest_of_range{std::unique(std::begin(r), std::end(r)), std::end(r)};
}

}  // namespace std::ranges

namespace std {

/// [charconv.from.chars] for double: no blanks, no plus sign, no hexadecimal. The C library of the
/// engine knows one locale.
inline from_chars_result from_chars(const char* first, const char* last, double& value) {
    const char* digits = first != last && *first == '-' ? first + 1 : first;
    const bool number = digits != last && (isdigit(*digits) || *digits == '.' || *digits == 'i' ||
                                           *digits == 'I' || *digits == 'n' || *digits == 'N');
    if (!number) return {first, errc::invalid_argument};
    const char* stop = first;  // strtod would read 0x10 and go on past `last`
    while (stop != last && *stop != 'x' && *stop != 'X') ++stop;
    const string text(first, stop);
    char* end = nullptr;
    errno = 0;
    const double read = strtod(text.c_str(), &end);
    if (end == text.c_str()) return {first, errc::invalid_argument};
    const char* reached = first + (end - text.c_str());
    if (errno == ERANGE) return {reached, errc::result_out_of_range};
    value = read;
    return {reached, errc()};
}

}  // namespace std
#endif
