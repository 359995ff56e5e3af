#include "tests/hostile/broken_files.hpp"
#include "tests/file_bytes.hpp"

#include "scene/mesh/shapes.hpp"
#include "tests/scene/mesh/mesh_files.hpp"

#include <fmt/format.h>
#include <glm/gtc/constants.hpp>

#include <algorithm>
#include <array>
#include <iterator>
#include <limits>
#include <random>
#include <set>
#include <system_error>

namespace evenclose::test {
namespace {

namespace fs = std::filesystem;

std::string ending_of(const fs::path& file) {
    std::string ending = file.extension().string();
    std::transform(ending.begin(), ending.end(), ending.begin(),
                   [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
    return ending;
}

std::vector<fs::path> meshes_under(const fs::path& folder) {
    static const std::set<std::string> endings{".stl", ".obj", ".ply", ".off", ".gltf",
                                               ".glb", ".3mf", ".stp", ".step"};
    std::vector<fs::path> found;
    std::error_code error;
    for (fs::recursive_directory_iterator entry(folder, error), end; !error && entry != end; entry.increment(error)) {
        if (entry->is_regular_file() && endings.contains(ending_of(entry->path()))) {
            found.push_back(entry->path());
        }
    }
    std::sort(found.begin(), found.end()); // the same order on every disk
    return found;
}

using Random = std::mt19937_64;

std::string with_changed_bytes(std::string bytes, Random& random) {
    const auto wounds = 1 + random() % 6;
    for (std::uint64_t wound = 0; wound < wounds && !bytes.empty(); ++wound) {
        // The head is hit as often as all the rest, since there a byte does most.
        const std::size_t at = random() % (random() % 2 == 0 ? std::min<std::size_t>(bytes.size(), 400) : bytes.size());
        switch (random() % 8) {
        case 0:
            bytes[at] = static_cast<char>(bytes[at] ^ (1 << (random() % 8)));
            break;
        case 1:
            bytes[at] = static_cast<char>(random());
            break;
        case 2:
            bytes.erase(at, 1 + random() % 40);
            break;
        case 3:
            bytes.insert(at, bytes.substr(random() % bytes.size(), 1 + random() % 400));
            break;
        case 4:
            bytes.insert(at, std::to_string(random()));
            break;
        case 5: { // counts and numbers at their ends
            constexpr std::array<std::uint32_t, 6> ends{0, 0x7FFFFFFF, 0x80000000, 0xFFFFFFFF, 0x7F800000, 0x7FC00000};
            const std::uint32_t end = ends[random() % ends.size()];
            for (std::size_t i = 0; i < 4 && at + i < bytes.size(); ++i) {
                bytes[at + i] = static_cast<char>(end >> (8 * i));
            }
            break;
        }
        case 6: {
            constexpr std::array<const char*, 7> words{"nan", "-inf", "1e999", "99999999999999999999", "-1", "0", "\0"};
            bytes.insert(at, words[random() % words.size()]);
            break;
        }
        default:
            bytes.resize(at);
        }
    }
    return bytes;
}

TriangleMesh basic_shape(Random& random) {
    switch (random() % 4) {
    case 0:
        return box_shape({-100, -50, 0}, {100, 50, 60});
    case 1:
        return torus_shape(60, 20, 24, 12);
    case 2:
        return torus_shape(90, 8, 60, 6);
    default: {
        TriangleMesh two = box_shape({-100, -50, 0}, {100, 50, 60});
        append(two, torus_shape(30, 10, 16, 8), Pose{Mat3(1.0), {0, 0, 60}});
        return two;
    }
    }
}

/// One thing after the other that no CAD means and that files hold all the same. Tells what.
std::string spoil(TriangleMesh& mesh, Random& random) {
    const auto some_vertex = [&]() -> Vec3& { return mesh.vertices_mm[random() % mesh.vertices_mm.size()]; };
    const auto some_triangle = [&]() -> TriangleCorners& { return mesh.triangles[random() % mesh.triangles.size()]; };
    const auto unit = [&random] { return static_cast<double>(random() % 2000) / 1000 - 1; };
    switch (random() % 20) {
    case 0: // a corner twice
        for (int i = 0; i < 20; ++i) {
            TriangleCorners& triangle = some_triangle();
            triangle[random() % 3] = triangle[random() % 3];
        }
        return "degenerate";
    case 1:
        some_vertex()[static_cast<int>(random() % 3)] = std::numeric_limits<double>::quiet_NaN();
        return "nan";
    case 2:
        some_vertex()[static_cast<int>(random() % 3)] =
            (random() % 2 == 0 ? 1 : -1) * std::numeric_limits<double>::infinity();
        return "infinite";
    case 3: {
        const auto before = mesh.triangles;
        for (std::size_t i = 0; i < before.size(); i += 1 + random() % 3) {
            mesh.triangles.push_back(before[i]);
        }
        return "doubled";
    }
    case 4:
        for (TriangleCorners& triangle : mesh.triangles) {
            if (random() % 4 == 0) {
                std::swap(triangle[0], triangle[1]);
            }
        }
        return "flipped";
    case 5:
        for (TriangleCorners& triangle : mesh.triangles) {
            std::swap(triangle[0], triangle[1]);
        }
        return "inside-out";
    case 6: {
        const TriangleMesh shell = mesh;
        for (int depth = 1; depth < 6; ++depth) {
            append(mesh, shell, Pose{Mat3(std::pow(0.7, depth)), Vec3(0.0)}); // no rigid pose, but it nests
        }
        return "nested";
    }
    case 7: {
        const TriangleMesh copy = mesh;
        append(mesh, copy, Pose{Mat3(1.0), Vec3(17.0 * unit(), 13.0 * unit(), 5.0 * unit())});
        return "self-intersecting";
    }
    case 8: {
        const TriangleMesh copy = mesh;
        append(mesh, copy);
        return "laid-on-itself";
    }
    case 9:
        for (Vec3& vertex : mesh.vertices_mm) {
            vertex *= 1e-30;
        }
        return "1e-30";
    case 10:
        for (Vec3& vertex : mesh.vertices_mm) {
            vertex *= 1e30;
        }
        return "1e30";
    case 11:
        some_vertex() *= 1e30;
        return "one-at-1e30";
    case 12:
        some_vertex() = Vec3(1e300, -1e300, 1e300);
        return "one-at-1e300";
    case 13:
        for (Vec3& vertex : mesh.vertices_mm) {
            vertex.z = 0;
        }
        return "flat";
    case 14:
        for (Vec3& vertex : mesh.vertices_mm) {
            vertex = Vec3(vertex.x, 0, 0);
        }
        return "a-line";
    case 15:
        for (Vec3& vertex : mesh.vertices_mm) {
            vertex = Vec3(7, 7, 7);
        }
        return "a-point";
    case 16:
        for (TriangleCorners& triangle : mesh.triangles) {
            if (random() % 5 == 0) {
                triangle[random() % 3] = static_cast<std::uint32_t>(random() % mesh.vertices_mm.size());
            }
        }
        return "crossed";
    case 17:
        mesh.triangles.resize(1 + random() % mesh.triangles.size());
        return "holes";
    case 18:
        for (Vec3& vertex : mesh.vertices_mm) {
            vertex += Vec3(1e8, -1e8, 1e8);
        }
        return "far-away";
    default:
        for (Vec3& vertex : mesh.vertices_mm) {
            vertex += 0.5 * Vec3(unit(), unit(), unit());
        }
        return "shaken";
    }
}

BrokenFile broken_shape(Random& random) {
    TriangleMesh mesh = basic_shape(random);
    std::string done = spoil(mesh, random);
    if (random() % 3 == 0 && !mesh.vertices_mm.empty()) {
        done += "+" + spoil(mesh, random);
    }
    switch (random() % 5) {
    case 0:
        return {"shape", done + ".obj", obj(mesh), {}};
    case 1:
        return {"shape", done + ".ply", ply(mesh, random() % 2 == 0), {}};
    case 2:
        return {"shape", done + ".off", off(mesh), {}};
    case 3:
        return {"shape", done + ".stl", text_stl(mesh), {}};
    default:
        return {"shape", done + ".stl", binary_stl(mesh), {}};
    }
}

} // namespace

BrokenFiles::BrokenFiles(const fs::path& demo, const std::vector<fs::path>& others) : cuts_(meshes_under(demo)) {
    // Larger ones take long to change and hardly more to break.
    constexpr std::uintmax_t kSmall = 300'000;
    constexpr std::uintmax_t kModerate = 8'000'000;
    for (const fs::path& folder : others) {
        for (const fs::path& file : meshes_under(folder)) {
            const std::uintmax_t size = fs::file_size(file);
            if (size <= kModerate) {
                others_.push_back(file);
            }
            if (size > 0 && size <= kSmall) {
                seeds_.push_back({ending_of(file), bytes_of(file)});
            }
        }
    }
    const TriangleMesh shape = torus_shape(60, 20, 16, 10);
    const std::string object = "<object id=\"1\" type=\"model\">" + three_mf_mesh(shape) + "</object>";
    // As often as all those of others.
    const std::vector<Seed> own{{".stl", binary_stl(shape)},
                                {".stl", text_stl(shape)},
                                {".obj", obj(shape)},
                                {".ply", ply(shape, true)},
                                {".ply", ply(shape, false)},
                                {".off", off(shape)},
                                {".glb", glb(shape, "[{\"mesh\":0}]")},
                                {".3mf", three_mf("", object, "<item objectid=\"1\"/>")}};
    const std::size_t rounds = 1 + seeds_.size() / own.size();
    for (std::size_t round = 0; round < rounds; ++round) {
        seeds_.insert(seeds_.end(), own.begin(), own.end());
    }
}

BrokenFile BrokenFiles::make(std::size_t number) const {
    if (number < others_.size()) {
        return {"of others", others_[number].filename().string(), {}, others_[number]};
    }
    if (number < fixed()) {
        const std::size_t cut = number - others_.size();
        const fs::path& file = cuts_[cut / 99];
        const std::size_t hundredths = cut % 99 + 1;
        std::string bytes = bytes_of(file);
        bytes.resize(bytes.size() * hundredths / 100);
        return {"cut",
                fmt::format("{}-at-{}{}", file.stem().string(), hundredths, file.extension().string()),
                std::move(bytes),
                {}};
    }
    Random random(number); // each by itself, so that one can be made again
    if (number % 2 == 0) {
        return broken_shape(random);
    }
    const Seed& seed = seeds_[random() % seeds_.size()];
    return {"bytes", "bytes" + seed.ending, with_changed_bytes(seed.bytes, random), {}};
}

} // namespace evenclose::test
