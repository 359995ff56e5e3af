#include "assets/demo/generate/demo_molds.hpp"

#include <glm/geometric.hpp>

#include <array>
#include <cmath>
#include <cstring>
#include <fstream>
#include <functional>
#include <stdexcept>
#include <system_error>

namespace evenclose::demo {
namespace {

// The seat and the walls need no fine cut: one coarse cell for so many fine ones, so that no triangle is a needle.
constexpr int kCoarser = 10;

/// A block over a rectangle about the origin, closed by a level seat at `seat_mm` and a face z(x) cut finely.
class FacedBlock {
public:
    FacedBlock(double length_mm, double width_mm, double seat_mm, std::function<double(double)> z_mm, Fineness fineness)
        : length_mm_(length_mm), width_mm_(width_mm), seat_mm_(seat_mm), z_mm_(std::move(z_mm)), fineness_(fineness) {
        const bool seat_below = seat_mm_ < z_mm_(0);
        const Grid face = add_grid(fineness_.along, fineness_.across, true, seat_below);
        const Grid seat = add_grid(fineness_.along / kCoarser, fineness_.across / kCoarser, false, !seat_below);
        add_walls(face, seat, seat_below);
    }
    TriangleMesh take() { return std::move(mesh_); }

private:
    struct Grid {
        int along = 0, across = 0;
        std::uint32_t first = 0;
        [[nodiscard]] std::uint32_t at(int i, int j) const {
            return first + static_cast<std::uint32_t>(i * (across + 1) + j);
        }
    };

    void add(std::uint32_t a, std::uint32_t b, std::uint32_t c, bool turn) {
        mesh_.triangles.push_back(turn ? TriangleCorners{a, c, b} : TriangleCorners{a, b, c});
    }

    Grid add_grid(int along, int across, bool is_face, bool faces_up) {
        const Grid grid{along, across, static_cast<std::uint32_t>(mesh_.vertices_mm.size())};
        for (int i = 0; i <= along; ++i) {
            const double x = length_mm_ * (static_cast<double>(i) / along - 0.5);
            for (int j = 0; j <= across; ++j) {
                const double y = width_mm_ * (static_cast<double>(j) / across - 0.5);
                mesh_.vertices_mm.emplace_back(x, y, is_face ? z_mm_(x) : seat_mm_);
            }
        }
        for (int i = 0; i < along; ++i) {
            for (int j = 0; j < across; ++j) {
                add(grid.at(i, j), grid.at(i + 1, j), grid.at(i + 1, j + 1), !faces_up);
                add(grid.at(i, j), grid.at(i + 1, j + 1), grid.at(i, j + 1), !faces_up);
            }
        }
        return grid;
    }

    /// Around the rim, counter-clockwise seen from above, each side without its last corner.
    static std::vector<std::uint32_t> rim(const Grid& grid) {
        std::vector<std::uint32_t> corners;
        for (int i = 0; i < grid.along; ++i) {
            corners.push_back(grid.at(i, 0));
        }
        for (int j = 0; j < grid.across; ++j) {
            corners.push_back(grid.at(grid.along, j));
        }
        for (int i = grid.along; i > 0; --i) {
            corners.push_back(grid.at(i, grid.across));
        }
        for (int j = grid.across; j > 0; --j) {
            corners.push_back(grid.at(0, j));
        }
        return corners;
    }

    /// Each coarse edge of the seat's rim meets kCoarser fine ones of the face's.
    void add_walls(const Grid& face, const Grid& seat, bool seat_below) {
        const std::vector<std::uint32_t> fine = rim(face);
        const std::vector<std::uint32_t> coarse = rim(seat);
        for (std::size_t c = 0; c < coarse.size(); ++c) {
            const std::uint32_t here = coarse[c];
            const std::uint32_t next = coarse[(c + 1) % coarse.size()];
            for (std::size_t f = 0; f < kCoarser; ++f) {
                const std::size_t k = c * kCoarser + f;
                // The first half of the fine edges fan out from this seat corner, the rest from the next.
                add(f < kCoarser / 2 ? here : next, fine[(k + 1) % fine.size()], fine[k], !seat_below);
            }
            add(here, next, fine[(c * kCoarser + kCoarser / 2) % fine.size()], !seat_below);
        }
    }

    double length_mm_, width_mm_, seat_mm_;
    std::function<double(double)> z_mm_;
    Fineness fineness_;
    TriangleMesh mesh_;
};

template <class Mold> Halves halves(const Mold& mold, Fineness fineness) {
    if (fineness.along < kCoarser || fineness.across < kCoarser || fineness.along % kCoarser != 0 ||
        fineness.across % kCoarser != 0) {
        throw std::invalid_argument("demo mold: cells along and across must be multiples of 10");
    }
    return {FacedBlock(
                mold.length_mm, mold.width_mm, 0, [&](double x) { return mold.lower_z_mm(x); }, fineness)
                .take(),
            FacedBlock(
                mold.length_mm, mold.width_mm, mold.shut_height_mm(), [&](double x) { return mold.upper_z_mm(x); },
                fineness)
                .take()};
}

void put(std::string& bytes, float value) {
    std::array<char, 4> raw{};
    std::memcpy(raw.data(), &value, 4); // little-endian, as the format and every machine this is built for
    bytes.append(raw.data(), raw.size());
}

} // namespace

double Crescent::lower_z_mm(double x_mm) const {
    const double half = 0.5 * length_mm;
    return end_height_mm + std::sqrt(radius_mm * radius_mm - x_mm * x_mm) -
           std::sqrt(radius_mm * radius_mm - half * half);
}

double Crescent::upper_z_mm(double x_mm) const {
    const double centre_z = lower_z_mm(0) - radius_mm;
    const double outer = radius_mm + stack_mm;
    return centre_z + std::sqrt(outer * outer - x_mm * x_mm);
}

double Curlew::z_mm(double x_mm, double offset_mm) const {
    const auto swept = [&](double from_mm, double radius) {
        const double r = radius - offset_mm; // the arc's centre lies above it, so the offset face is the tighter one
        const double along = x_mm - from_mm;
        return flat_height_mm + radius - std::sqrt(r * r - along * along);
    };
    if (x_mm > nose_from_mm) {
        return swept(nose_from_mm, nose_radius_mm);
    }
    if (x_mm < tail_from_mm) {
        return swept(tail_from_mm, tail_radius_mm);
    }
    return flat_height_mm + offset_mm;
}

Halves halves_of(const Crescent& mold, Fineness fineness) { return halves(mold, fineness); }
Halves halves_of(const Curlew& mold, Fineness fineness) { return halves(mold, fineness); }

void write_binary_stl(const TriangleMesh& mesh, const std::filesystem::path& file) {
    std::string bytes(80, ' ');
    bytes.reserve(84 + 50 * mesh.triangles.size());
    const auto count = static_cast<std::uint32_t>(mesh.triangles.size());
    std::array<char, 4> raw{};
    std::memcpy(raw.data(), &count, 4);
    bytes.append(raw.data(), raw.size());
    for (const TriangleCorners& corners : mesh.triangles) {
        const Vec3& a = mesh.vertices_mm[corners[0]];
        const Vec3& b = mesh.vertices_mm[corners[1]];
        const Vec3& c = mesh.vertices_mm[corners[2]];
        const Vec3 normal = glm::normalize(glm::cross(b - a, c - a));
        for (const Vec3& v : {normal, a, b, c}) {
            put(bytes, static_cast<float>(v.x));
            put(bytes, static_cast<float>(v.y));
            put(bytes, static_cast<float>(v.z));
        }
        bytes.append(2, '\0');
    }
    std::ofstream out(file, std::ios::binary);
    out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    out.close();
    if (!out) {
        throw std::runtime_error(file.string() + ": cannot be written: " + std::generic_category().message(errno));
    }
}

} // namespace evenclose::demo
