// Files that another program writes into while they are read: one state of them is given, or it is told; never half of each.
#include "scene/documents/source_file.hpp"
#include "scene/mesh/formats/open_file.hpp"
#include "scene/mesh/import.hpp"
#include "tests/scene/mesh/mesh_files.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <fstream>
#include <string>
#include <thread>
#include <variant>

using namespace evenclose;
using namespace evenclose::test;
using namespace std::chrono_literals;

namespace {

/// Writes each of the two texts into the file again and again, in place: neither is the file replaced nor does its size change.
class Writer {
public:
    Writer(const std::filesystem::path& file, std::string one, std::string other)
        : thread_([this, file, one = std::move(one), other = std::move(other)] {
              for (bool first = true; !ends_; first = !first) {
                  const std::string& bytes = first ? one : other;
                  std::fstream(file, std::ios::binary | std::ios::in | std::ios::out)
                      .write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
                  ++written_;
                  std::this_thread::sleep_for(15ms); // the system's clock for files has ticked by then
              }
          }) {}
    ~Writer() {
        ends_ = true;
        thread_.join();
    }
    Writer(const Writer&) = delete;
    Writer& operator=(const Writer&) = delete;
    [[nodiscard]] int written() const { return written_; }

private:
    std::atomic<bool> ends_{false};
    std::atomic<int> written_{0};
    std::thread thread_;
};

/// Flat triangles, all at one height.
TriangleMesh sheet(double z_mm, std::uint32_t triangles) {
    TriangleMesh mesh;
    for (std::uint32_t i = 0; i < triangles; ++i) {
        const double x = i % 1000;
        const double y = i / 1000; // NOLINT(bugprone-integer-division): rows
        for (const Vec3& corner : {Vec3(x, y, z_mm), Vec3(x + 0.5, y, z_mm), Vec3(x, y + 0.5, z_mm)}) {
            mesh.vertices_mm.push_back(corner);
        }
        mesh.triangles.push_back({3 * i, 3 * i + 1, 3 * i + 2});
    }
    return mesh;
}

} // namespace

TEST_CASE("a mesh that is written into while it is read is one state of it, or it is told") {
    const Folder folder;
    constexpr std::uint32_t kTriangles = 60'000;
    const std::string one = binary_stl(sheet(10, kTriangles));
    const std::string other = binary_stl(sheet(20, kTriangles));
    const auto file = folder.write("sheet.stl", one);
    int told = 0;
    {
        const Writer writer(file, one, other);
        const auto until = std::chrono::steady_clock::now() + 60s;
        while ((writer.written() < 20 || told < 3) && std::chrono::steady_clock::now() < until) {
            const ImportResult result = import_mesh(file, LengthUnit::mm);
            if (const auto* fault = std::get_if<ImportFault>(&result)) {
                CHECK(fault->why == kChangedWhileRead);
                ++told;
                continue;
            }
            const TriangleMesh& mesh = std::get<ImportedMesh>(result).mesh;
            const Box box = bounds_of(mesh);
            REQUIRE(mesh.triangles.size() == kTriangles);
            CHECK(box.low_mm.z == box.high_mm.z); // not of both
        }
    }
    CHECK(told >= 3);
    CHECK(std::holds_alternative<ImportedMesh>(import_mesh(file, LengthUnit::mm)));
}

TEST_CASE("a document that is written into while it is read is one state of it, or it is told") {
    const Folder folder;
    const std::string one(8U << 20U, 'a');
    const std::string other(8U << 20U, 'b');
    const auto file = folder.write("x.press.json", one);
    {
        const Writer writer(file, one, other);
        for (int i = 0; i < 20; ++i) {
            const auto read = read_source_file(file);
            if (const auto* bytes = std::get_if<std::string>(&read)) {
                CHECK((*bytes == one || *bytes == other));
            } else {
                CHECK(std::get<DocumentFault>(read).problem == "changed while it was read");
            }
        }
        CHECK(writer.written() > 3);
    }
    CHECK(std::holds_alternative<std::string>(read_source_file(file)));
}

TEST_CASE("a document that is always being written to is told, and does not keep the reader") {
    const Folder folder;
    const auto file = folder.write("x.press.json", std::string(16U << 20U, 'a'));
    std::atomic<bool> ends{false};
    std::thread writer([&] {
        while (!ends) {
            std::ofstream(file, std::ios::binary | std::ios::app).put('a');
        }
    });
    bool told = false;
    const auto until = std::chrono::steady_clock::now() + 60s;
    while (!told && std::chrono::steady_clock::now() < until) {
        const auto read = read_source_file(file);
        const auto* fault = std::get_if<DocumentFault>(&read);
        told = fault != nullptr && fault->problem == "changed while it was read";
    }
    ends = true;
    writer.join();
    CHECK(told);
}
