// A mesh file that has not changed is read once, for as long as somebody holds its mesh.
#include "scene/documents/mesh_shelf.hpp"

#include "scene/mesh/shapes.hpp"
#include "tests/scene/documents/temporary_folder.hpp"
#include "tests/scene/documents/text_stl.hpp"

#include <doctest/doctest.h>

#include <chrono>
#include <string>

using namespace evenclose;
using namespace evenclose::test;

namespace {

std::string stl_of(double size) { return text_stl(box_shape(Vec3{0.0}, Vec3{size})); }

void written_ago(const std::filesystem::path& file, std::chrono::seconds ago) {
    std::filesystem::last_write_time(file, std::filesystem::file_time_type::clock::now() - ago);
}

SharedMesh taken(const std::filesystem::path& file, LengthUnit unit = LengthUnit::mm) {
    MeshShelf shelf;
    return shelf.take(file, unit).mesh;
}

} // namespace

TEST_CASE("mesh shelf: an unchanged file is the same mesh in the next reading, while somebody holds it") {
    const TemporaryFolder folder;
    const std::filesystem::path file = folder.write("half.stl", stl_of(50));
    written_ago(file, std::chrono::seconds(60));
    SharedMesh before = taken(file);
    REQUIRE(before);
    CHECK(taken(file) == before);
    CHECK(taken(file, LengthUnit::inch) != before); // another size altogether

    SUBCASE("a newer one is read") {
        folder.write("half.stl", stl_of(60));
        written_ago(file, std::chrono::seconds(30));
        const SharedMesh after = taken(file);
        REQUIRE(after);
        CHECK(bounds_of(*after).high_mm.x == 60);
    }
    SUBCASE("one written a moment ago is read each time: a clock of two seconds would not tell") {
        folder.write("half.stl", stl_of(60));
        const SharedMesh after = taken(file);
        folder.write("half.stl", stl_of(70));
        const SharedMesh again = taken(file);
        REQUIRE((after && again));
        CHECK(bounds_of(*after).high_mm.x == 60);
        CHECK(bounds_of(*again).high_mm.x == 70);
    }
    SUBCASE("one that is gone is a fault, not a memory") {
        std::filesystem::remove(file);
        CHECK(taken(file) == nullptr);
    }
    SUBCASE("nobody holds it: nothing is kept in memory") {
        const std::weak_ptr<const TriangleMesh> gone = before;
        before.reset();
        CHECK(gone.expired());
    }
}
