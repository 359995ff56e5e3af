// scene/mesh/formats/welder.hpp: gives equal corners one number, by a hash over their exact bits.
//
// Only equal coordinates meet (0.0 and -0.0 are equal): no tolerance, so nothing that the file keeps apart is closed up.
// A table of vertex numbers with linear probing, at most half full (D. E. Knuth, The Art of Computer Programming 3,
// 6.4, algorithm L).
#pragma once

#include "scene/mesh/large_memory.hpp"
#include "scene/vec.hpp"

#include <array>
#include <bit>
#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

namespace evenclose {

class Welder {
public:
    /// A closed mesh has about half as many vertices as triangles; more are taken in, only slower.
    explicit Welder(std::size_t expected_vertices) {
        reserve_large(vertices_, expected_vertices);
        resize(2 * expected_vertices);
    }

    /// Needs: finite coordinates, -0.0 made 0.0 by `plain`.
    [[nodiscard]] static Vec3 plain(const Vec3& corner) { return corner + 0.0; }
    [[nodiscard]] static std::uint64_t hash_of(const Vec3& corner) {
        // Three odd multipliers without pattern, then a fold, so that high and low bits of each coordinate tell.
        std::uint64_t h = std::bit_cast<std::uint64_t>(corner.x) * 0x9E3779B97F4A7C15ULL +
                          std::bit_cast<std::uint64_t>(corner.y) * 0xC2B2AE3D27D4EB4FULL +
                          std::bit_cast<std::uint64_t>(corner.z) * 0x165667B19E3779F9ULL;
        h ^= h >> 32U;
        return h * 0xD6E8FEB86659FD93ULL;
    }
    /// Brings the place where a corner of this hash will be looked for nearer. Only for speed.
    void expect(std::uint64_t hash) const { __builtin_prefetch(&slots_[hash >> shift_]); }

    [[nodiscard]] std::uint32_t add(const Vec3& corner, std::uint64_t hash) {
        // Neighbours in a file are neighbours in space: most corners were seen a moment ago. This small table stays in the
        // nearest caches, where the large one does not.
        std::uint32_t& recent = recent_[(hash >> 20U) % recent_.size()];
        if (recent != kFree && vertices_[recent] == corner) {
            return recent;
        }
        recent = find_or_add(corner, hash);
        return recent;
    }
    [[nodiscard]] std::uint32_t add(const Vec3& corner) {
        const Vec3 at = plain(corner);
        return add(at, hash_of(at));
    }

    [[nodiscard]] std::size_t size() const { return vertices_.size(); }
    /// The vertices in the order of their numbers; the welder is empty afterwards.
    [[nodiscard]] std::vector<Vec3> take() {
        slots_ = {};
        recent_.fill(kFree);
        if (vertices_.capacity() >
            vertices_.size() + vertices_.size() / 8) { // to copy it costs more than a little room
            vertices_.shrink_to_fit();
        }
        return std::move(vertices_);
    }

private:
    static constexpr std::uint32_t kFree = 0xFFFFFFFFU;

    [[nodiscard]] std::uint32_t find_or_add(const Vec3& corner, std::uint64_t hash) {
        for (std::size_t slot = hash >> shift_;; slot = (slot + 1) & (slots_.size() - 1)) {
            const std::uint32_t found = slots_[slot];
            if (found == kFree) {
                const auto number = static_cast<std::uint32_t>(vertices_.size());
                slots_[slot] = number;
                vertices_.push_back(corner);
                if (2 * vertices_.size() > slots_.size()) {
                    resize(2 * slots_.size());
                }
                return number;
            }
            if (vertices_[found] == corner) {
                return found;
            }
        }
    }
    static constexpr std::array<std::uint32_t, 4096> filled() {
        std::array<std::uint32_t, 4096> table{};
        table.fill(kFree);
        return table;
    }

    void resize(std::size_t least) {
        const std::size_t size = std::bit_ceil(least < 64 ? std::size_t{64} : least);
        shift_ = 64U - static_cast<unsigned>(std::countr_zero(size));
        slots_ = {}; // first give the old table back
        reserve_large(slots_, size);
        slots_.assign(size, kFree);
        for (std::size_t i = 0; i < vertices_.size(); ++i) {
            std::size_t slot = hash_of(vertices_[i]) >> shift_;
            while (slots_[slot] != kFree) {
                slot = (slot + 1) & (size - 1);
            }
            slots_[slot] = static_cast<std::uint32_t>(i);
        }
    }

    std::vector<Vec3> vertices_;
    std::vector<std::uint32_t> slots_;
    unsigned shift_ = 58;
    std::array<std::uint32_t, 4096> recent_ = filled();
};

} // namespace evenclose
