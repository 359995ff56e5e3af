#include "scene/mesh/predicates.hpp"

#include <array>
#include <cmath>
#include <cstddef>

namespace evenclose {
namespace {

// The sums below are exact only if the compiler keeps every rounding where it is written: no -ffast-math.

struct TwoTerms {
    double high, low; // high + low is the exact result, high the rounded one
};

TwoTerms exact_sum(double a, double b) {
    const double sum = a + b;
    const double b_seen = sum - a;
    return {sum, (a - (sum - b_seen)) + (b - b_seen)};
}
TwoTerms exact_product(double a, double b) {
    const double product = a * b;
    return {product, std::fma(a, b, -product)};
}

/// A sum of doubles that do not overlap, smallest first: its last term that is not 0 has the sign of the whole.
template <std::size_t Capacity> struct Expansion {
    std::array<double, Capacity> terms;
    std::size_t size = 0;

    void add(double value) { // GROW-EXPANSION with zero elimination
        double carried = value;
        std::size_t kept = 0;
        for (std::size_t i = 0; i < size; ++i) {
            const TwoTerms sum = exact_sum(carried, terms[i]);
            carried = sum.high;
            if (sum.low != 0) {
                terms[kept++] = sum.low;
            }
        }
        if (carried != 0) {
            terms[kept++] = carried;
        }
        size = kept;
    }
    void add(TwoTerms value) {
        add(value.low);
        add(value.high);
    }
    [[nodiscard]] int sign() const { return size == 0 ? 0 : terms[size - 1] > 0 ? 1 : -1; }
};

/// a b with both exact, at most 8 terms.
Expansion<8> product(TwoTerms a, TwoTerms b) {
    Expansion<8> result;
    result.add(exact_product(a.low, b.low));
    result.add(exact_product(a.low, b.high));
    result.add(exact_product(a.high, b.low));
    result.add(exact_product(a.high, b.high));
    return result;
}

int orientation_exactly(const Vec2& a, const Vec2& b, const Vec2& c) {
    const TwoTerms ax = exact_sum(a.x, -c.x), ay = exact_sum(a.y, -c.y);
    const TwoTerms bx = exact_sum(b.x, -c.x), by = exact_sum(b.y, -c.y);
    Expansion<16> sum;
    const auto first = product(ax, by);
    const auto second = product(ay, bx);
    for (std::size_t i = 0; i < first.size; ++i) {
        sum.add(first.terms[i]);
    }
    for (std::size_t i = 0; i < second.size; ++i) {
        sum.add(-second.terms[i]);
    }
    return sum.sign();
}

int side_exactly(const Vec3& a, const Vec3& b, const Vec3& c, const Vec3& d) {
    TwoTerms rows[3][3];
    const Vec3* corners[3] = {&a, &b, &c};
    for (int row = 0; row < 3; ++row) {
        for (int axis = 0; axis < 3; ++axis) {
            rows[row][axis] = exact_sum((*corners[row])[axis], -d[axis]);
        }
    }
    Expansion<192> sum; // six products of three two-term factors: at most 6 x 8 x 4 terms
    constexpr int order[6][3] = {{0, 1, 2}, {1, 2, 0}, {2, 0, 1}, {0, 2, 1}, {1, 0, 2}, {2, 1, 0}};
    for (int k = 0; k < 6; ++k) {
        const double sign = k < 3 ? 1 : -1;
        const auto pair = product(rows[0][order[k][0]], rows[1][order[k][1]]);
        const TwoTerms third = rows[2][order[k][2]];
        for (std::size_t i = 0; i < pair.size; ++i) {
            const double factor = sign * pair.terms[i];
            sum.add(exact_product(factor, third.low));
            sum.add(exact_product(factor, third.high));
        }
    }
    return sum.sign();
}

constexpr double kHalfUlp = 0x1p-53;
constexpr double kOrientationBound = (3 + 16 * kHalfUlp) * kHalfUlp;
constexpr double kSideBound = (7 + 56 * kHalfUlp) * kHalfUlp;

} // namespace

int orientation(const Vec2& a, const Vec2& b, const Vec2& c) {
    const double left = (a.x - c.x) * (b.y - c.y);
    const double right = (a.y - c.y) * (b.x - c.x);
    const double determinant = left - right;
    const double bound = kOrientationBound * (std::abs(left) + std::abs(right));
    if (determinant > bound) {
        return 1;
    }
    if (-determinant > bound) {
        return -1;
    }
    return bound == 0 ? 0 : orientation_exactly(a, b, c);
}

int side_of_plane(const Vec3& a, const Vec3& b, const Vec3& c, const Vec3& d) {
    const Vec3 p = a - d, q = b - d, r = c - d;
    const double qxry = q.x * r.y, qyrx = q.y * r.x;
    const double rxpy = r.x * p.y, rypx = r.y * p.x;
    const double pxqy = p.x * q.y, pyqx = p.y * q.x;
    const double determinant = p.z * (qxry - qyrx) + q.z * (rxpy - rypx) + r.z * (pxqy - pyqx);
    const double size = (std::abs(qxry) + std::abs(qyrx)) * std::abs(p.z) +
                        (std::abs(rxpy) + std::abs(rypx)) * std::abs(q.z) +
                        (std::abs(pxqy) + std::abs(pyqx)) * std::abs(r.z);
    const double bound = kSideBound * size;
    // The determinant is positive when d lies below the plane (Shewchuk's orient3d); ours counts the other way.
    if (determinant > bound) {
        return -1;
    }
    if (-determinant > bound) {
        return 1;
    }
    return size == 0 ? 0 : -side_exactly(a, b, c, d);
}

} // namespace evenclose
