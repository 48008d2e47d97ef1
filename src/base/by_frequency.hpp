#pragma once
#include <cstddef>
#include <span>
#include <stdexcept>
#include <utility>
#include <vector>

namespace boxroom {

/// Values of every frequency, in rows and columns (seats and subs, say) that know their number: in
/// one piece, the columns running fastest. One column where there is only one thing to count.
template <typename Value>
class ByFrequency {
  public:
    ByFrequency() = default;
    ByFrequency(std::size_t frequencies, std::size_t rows, std::size_t columns = 1)
        : frequencies_(frequencies),
          rows_(rows),
          columns_(columns),
          value_(frequencies * rows * columns) {}
    /// Of values in that order. Throws std::length_error if they are not as many.
    ByFrequency(std::size_t frequencies, std::size_t rows, std::size_t columns,
                std::vector<Value> values)
        : frequencies_(frequencies), rows_(rows), columns_(columns), value_(std::move(values)) {
        if (value_.size() != frequencies * rows * columns)
            throw std::length_error("as many values as frequencies, rows and columns say");
    }

    Value& operator()(std::size_t f, std::size_t row, std::size_t column = 0) {
        return value_[(f * rows_ + row) * columns_ + column];
    }
    const Value& operator()(std::size_t f, std::size_t row, std::size_t column = 0) const {
        return value_[(f * rows_ + row) * columns_ + column];
    }
    /// All that belongs to one frequency, row after row.
    std::span<const Value> at(std::size_t f) const {
        return {value_.data() + f * rows_ * columns_, rows_ * columns_};
    }
    std::span<Value> at(std::size_t f) {
        return {value_.data() + f * rows_ * columns_, rows_ * columns_};
    }
    /// One row and column at every frequency.
    std::vector<Value> over_frequency(std::size_t row, std::size_t column = 0) const {
        std::vector<Value> out;
        out.reserve(frequencies_);
        for (std::size_t f = 0; f < frequencies_; ++f) out.push_back((*this)(f, row, column));
        return out;
    }

    std::size_t frequencies() const { return frequencies_; }
    std::size_t rows() const { return rows_; }
    std::size_t columns() const { return columns_; }
    bool empty() const { return value_.empty(); }
    /// Throws std::length_error unless it has this shape; for whoever takes one from elsewhere.
    void require(std::size_t frequencies, std::size_t rows, std::size_t columns = 1) const {
        if (frequencies_ != frequencies || rows_ != rows || columns_ != columns)
            throw std::length_error("values by frequency of another shape than what they are for");
    }
    const std::vector<Value>& values() const { return value_; }
    friend bool operator==(const ByFrequency&, const ByFrequency&) = default;

  private:
    std::size_t frequencies_ = 0, rows_ = 0, columns_ = 0;
    std::vector<Value> value_;
};

}  // namespace boxroom
