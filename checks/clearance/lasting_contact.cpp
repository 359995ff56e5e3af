#include "checks/clearance/lasting_contact.hpp"

#include <glm/geometric.hpp>

#include <algorithm>

namespace evenclose {
namespace {

/// A point or vector on its straight way.
struct Way {
    Vec3 start, end;
    Way operator-(const Way& other) const { return {start - other.start, end - other.end}; }
    [[nodiscard]] double longest() const { return std::max(glm::length(start), glm::length(end)); }
};

double det(const Vec3& u, const Vec3& v, const Vec3& w) { return glm::dot(u, glm::cross(v, w)); }

/// +1 or -1 if the volume spanned by three vectors has that sign all the way, each straying by `stray`; else 0.
int lasting_sign(const Way& u, const Way& v, const Way& w, double stray) {
    const double coefficients[4] = {
        det(u.start, v.start, w.start),
        (det(u.end, v.start, w.start) + det(u.start, v.end, w.start) + det(u.start, v.start, w.end)) / 3,
        (det(u.start, v.end, w.end) + det(u.end, v.start, w.end) + det(u.end, v.end, w.start)) / 3,
        det(u.end, v.end, w.end)};
    const double lu = u.longest();
    const double lv = v.longest();
    const double lw = w.longest();
    const double off = (lu + stray) * (lv + stray) * (lw + stray) - lu * lv * lw;
    const auto [least, greatest] = std::minmax_element(std::begin(coefficients), std::end(coefficients));
    return *least > off ? 1 : *greatest < -off ? -1 : 0;
}

bool edge_goes_through(const Way& p, const Way& q, const Way (&t)[3], double stray) {
    const Way first = t[1] - t[0];
    const Way second = t[2] - t[0];
    const int side = lasting_sign(first, second, p - t[0], stray);
    if (side == 0 || lasting_sign(first, second, q - t[0], stray) != -side) {
        return false;
    }
    const Way edge = q - p;
    const Way to[3] = {t[0] - p, t[1] - p, t[2] - p};
    const int turn = lasting_sign(edge, to[0], to[1], stray);
    return turn != 0 && lasting_sign(edge, to[1], to[2], stray) == turn &&
           lasting_sign(edge, to[2], to[0], stray) == turn;
}

} // namespace

bool contact_lasts(const Triangle& a_start, const Triangle& a_end, const Triangle& b_start, const Triangle& b_end,
                   double stray_mm) {
    Way a[3];
    Way b[3];
    double size = 0;
    for (std::size_t i = 0; i < 3; ++i) {
        a[i] = {a_start[i], a_end[i]};
        b[i] = {b_start[i], b_end[i]};
        size = std::max({size, a[i].longest(), b[i].longest()});
    }
    // Differences of two corners stray by both; and corners are rounded.
    const double stray = 2 * stray_mm + 1e-14 * size;
    for (std::size_t i = 0; i < 3; ++i) {
        if (edge_goes_through(a[i], a[(i + 1) % 3], b, stray) || edge_goes_through(b[i], b[(i + 1) % 3], a, stray)) {
            return true;
        }
    }
    return false;
}

} // namespace evenclose
