// What is laid down is taken up the same; what nobody laid down so is refused, whatever it is.
#include "scene/mesh/apart/parcel.hpp"

#include "scene/mesh/shapes.hpp"

#include <doctest/doctest.h>

#include <fcntl.h>
#include <sys/mman.h>
#include <unistd.h>

#include <cstdint>
#include <cstring>
#include <limits>
#include <random>
#include <string>

using namespace evenclose;

namespace {

constexpr std::uint64_t kMost = 1U << 24U;
constexpr std::size_t kHeadBytes = 80; // ten numbers of 64 bits, see parcel.cpp

std::string bytes_of(const Handle& memory) {
    std::string bytes(static_cast<std::size_t>(::lseek(memory.number(), 0, SEEK_END)), '\0');
    CHECK(::pread(memory.number(), bytes.data(), bytes.size(), 0) == static_cast<ssize_t>(bytes.size()));
    return bytes;
}

Handle sealed(const std::string& bytes, int seals = F_SEAL_SEAL | F_SEAL_SHRINK | F_SEAL_GROW | F_SEAL_WRITE) {
    Handle memory(::memfd_create("test", MFD_CLOEXEC | MFD_ALLOW_SEALING));
    CHECK(::write(memory.number(), bytes.data(), bytes.size()) == static_cast<ssize_t>(bytes.size()));
    CHECK(::fcntl(memory.number(), F_ADD_SEALS, seals) == 0);
    return memory;
}

std::string why(const Handle& memory, std::uint64_t most = kMost) {
    const auto taken = take_up(memory, most);
    const auto* wrong = std::get_if<std::string>(&taken);
    return wrong != nullptr ? *wrong : "(taken)";
}

RawMesh sample() {
    RawMesh raw;
    raw.mesh = torus_shape(60, 20, 12, 8);
    raw.corners_read = 576;
    raw.unit = FileUnit{25.4, "in"};
    raw.notes = {"one\nof two lines", ""};
    raw.parts = {"left", "right"};
    return raw;
}

void number_at(std::string& bytes, std::size_t place, std::uint64_t value) {
    std::memcpy(bytes.data() + 8 * place, &value, sizeof value);
}

} // namespace

TEST_CASE("parcel: a mesh, and a reason why there is none, come over as they are") {
    const RawMesh raw = sample();
    const auto taken = take_up(lay_down(raw), kMost);
    REQUIRE(std::holds_alternative<RawResult>(taken));
    REQUIRE(std::holds_alternative<RawMesh>(std::get<RawResult>(taken)));
    const auto& got = std::get<RawMesh>(std::get<RawResult>(taken));
    CHECK(got.mesh.vertices_mm == raw.mesh.vertices_mm);
    CHECK(got.mesh.triangles == raw.mesh.triangles);
    CHECK(got.corners_read == 576);
    REQUIRE(got.unit);
    CHECK(got.unit->mm == 25.4);
    CHECK(got.unit->name == "in");
    CHECK(got.notes == std::vector<std::string>{"one of two lines", ""});
    CHECK(got.parts == raw.parts);

    const auto refused = take_up(lay_down(NotRead{"is cut short"}), kMost);
    REQUIRE(std::holds_alternative<RawResult>(refused));
    CHECK(std::get<NotRead>(std::get<RawResult>(refused)).why == "is cut short");
    CHECK(std::holds_alternative<RawResult>(take_up(lay_down(RawMesh{}), kMost)));
}

TEST_CASE("parcel: what is not sealed, too large or no parcel is refused") {
    const std::string right = bytes_of(lay_down(sample()));
    CHECK(why(sealed(right)) == "(taken)");
    CHECK(why(sealed(right, F_SEAL_SHRINK | F_SEAL_GROW | F_SEAL_WRITE)) == "is not sealed");
    CHECK(why(sealed(right, F_SEAL_SEAL | F_SEAL_GROW | F_SEAL_SHRINK)) == "is not sealed");
    CHECK(why(Handle(::open("/dev/null", O_RDONLY | O_CLOEXEC))) == "is not sealed");
    CHECK(why(Handle()) == "is not sealed");
    CHECK(why(sealed(right), right.size() - 1) == "is too large");
    CHECK(why(sealed("")) == "has no right head");
    CHECK(why(sealed(right.substr(0, kHeadBytes - 1))) == "has no right head");
    for (std::size_t size = kHeadBytes; size < right.size(); size += 97) {
        CHECK(why(sealed(right.substr(0, size))) == "has counts that do not go with its size");
    }
    CHECK(why(sealed(right + "x")) == "has counts that do not go with its size");
}

TEST_CASE("parcel: counts, corners and triangles that cannot be are refused") {
    const RawMesh raw = sample();
    const std::string right = bytes_of(lay_down(raw));
    const auto with = [&right](std::size_t place, std::uint64_t value) {
        std::string bytes = right;
        number_at(bytes, place, value);
        return why(sealed(bytes));
    };
    CHECK(with(0, 7) == "has no right head");
    CHECK(with(1, 2) == "has no right head");
    const std::string counts = "has counts that do not go with its size";
    for (const std::size_t place : {2, 3, 4}) { // corners, triangles, words
        for (const std::uint64_t value :
             {std::uint64_t{0}, std::uint64_t{1} << 32U, (~std::uint64_t{0}) / 24 + 1, ~std::uint64_t{0}}) {
            CHECK(with(place, value) == counts);
        }
    }
    // Sums that overflow to the right size.
    std::string bytes = right;
    number_at(bytes, 2, raw.mesh.vertices_mm.size() + (std::uint64_t{1} << 61U)); // 24 x 2^61 is 3 x 2^64
    CHECK(why(sealed(bytes)) == counts);
    CHECK(with(1, 0) == counts); // no mesh, yet corners
    CHECK(with(8, 3) == "has other words than it says");
    CHECK(with(8, ~std::uint64_t{0}) == counts);
    std::uint64_t none = 0;
    for (const double unit :
         {0.0, -1.0, std::numeric_limits<double>::infinity(), std::numeric_limits<double>::quiet_NaN()}) {
        std::memcpy(&none, &unit, sizeof none);
        CHECK(with(7, none) == "has a unit that is none");
    }
    for (const double bad : {std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity(),
                             std::numeric_limits<double>::quiet_NaN()}) {
        for (const std::size_t corner : {std::size_t{0}, raw.mesh.vertices_mm.size() - 1}) {
            bytes = right;
            std::memcpy(bytes.data() + kHeadBytes + 24 * corner + 16, &bad, sizeof bad);
            CHECK(why(sealed(bytes)) == "has a corner that is not finite");
        }
    }
    const std::size_t triangles = kHeadBytes + 24 * raw.mesh.vertices_mm.size();
    for (const std::size_t triangle : {std::size_t{0}, raw.mesh.triangles.size() - 1}) {
        bytes = right;
        const auto beyond = static_cast<std::uint32_t>(raw.mesh.vertices_mm.size());
        std::memcpy(bytes.data() + triangles + 12 * triangle + 8, &beyond, sizeof beyond);
        CHECK(why(sealed(bytes)) == "has a triangle of corners that are not there");
    }
}

TEST_CASE("parcel: bytes changed at random give a sound mesh or none") {
    const std::string right = bytes_of(lay_down(sample()));
    std::mt19937 random(4711);
    int taken = 0;
    for (int trial = 0; trial < 3000; ++trial) {
        std::string bytes = right;
        const std::size_t reach = random() % 2 == 0 ? kHeadBytes : bytes.size();
        for (int wound = 0; wound < 3; ++wound) {
            bytes[random() % reach] = static_cast<char>(random());
        }
        CAPTURE(trial);
        auto result = take_up(sealed(bytes), kMost);
        if (auto* got = std::get_if<RawResult>(&result)) {
            if (const auto* raw = std::get_if<RawMesh>(got)) {
                ++taken;
                for (const TriangleCorners& triangle : raw->mesh.triangles) {
                    for (const auto corner : triangle) {
                        REQUIRE(corner < raw->mesh.vertices_mm.size());
                    }
                }
            }
        }
    }
    CHECK(taken > 100);
}
