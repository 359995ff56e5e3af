// Films: names, the container of a moving file against its specification, nothing left of a film that was stopped.
#include "tests/file_bytes.hpp"
#include "viewer/export/animated_webp.hpp"
#include "viewer/export/film_file.hpp"

#include "tests/viewer/app/small_press.hpp"
#include "tests/viewer/render/shop_press.hpp"
#include "viewer/app/camera_control.hpp"
#include "viewer/render/frame_of.hpp"
#include "viewer/render/view.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <iterator>
#include <numbers>
#include <stdexcept>
#include <string>
#include <unistd.h>
#include <vector>

using namespace evenclose;
using namespace evenclose::test;

namespace fs = std::filesystem;

namespace {

struct Folder {
    fs::path path = fs::temp_directory_path() / ("evenclose-film-" + std::to_string(getpid()));
    Folder() { fs::create_directories(path); }
    ~Folder() { fs::remove_all(path); }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
};

unsigned number(const std::string& bytes, std::size_t at, int width) {
    unsigned value = 0;
    for (int i = 0; i < width; ++i) {
        value |= static_cast<unsigned>(static_cast<unsigned char>(bytes.at(at + static_cast<std::size_t>(i))))
                 << (8 * i);
    }
    return value;
}

/// What a reader of Google's "WebP Container Specification" finds: RIFF chunks, VP8X with the canvas (24-bit width and
/// height, less one) and the animation flag, ANIM with the loop count, ANMF with each frame's 24-bit duration.
struct Container {
    unsigned width = 0, height = 0, loops = 99;
    bool animated = false;
    std::vector<unsigned> shown_ms;
};
Container read_container(const std::string& bytes) {
    Container found;
    REQUIRE(bytes.size() > 30);
    CHECK(bytes.substr(0, 4) == "RIFF");
    CHECK(number(bytes, 4, 4) == bytes.size() - 8);
    CHECK(bytes.substr(8, 4) == "WEBP");
    for (std::size_t at = 12; at + 8 <= bytes.size();) {
        const std::string kind = bytes.substr(at, 4);
        const unsigned size = number(bytes, at + 4, 4);
        if (kind == "VP8X") {
            found.animated = (number(bytes, at + 8, 1) & 0x02U) != 0;
            found.width = number(bytes, at + 12, 3) + 1;
            found.height = number(bytes, at + 15, 3) + 1;
        } else if (kind == "ANIM") {
            found.loops = number(bytes, at + 12, 2);
        } else if (kind == "ANMF") {
            found.shown_ms.push_back(number(bytes, at + 8 + 12, 3));
        }
        at += 8 + size + size % 2;
    }
    return found;
}

Film small_film(std::size_t pictures) {
    Film film;
    film.pictures = pictures;
    film.width = 160;
    film.height = 100;
    film.frame_at = [assembly = small_press(), pictures](std::size_t i) {
        FrameRequest request;
        request.at.mm = 200.0 * static_cast<double>(i) / static_cast<double>(pictures - 1);
        return frame_of(*assembly, request);
    };
    film.shown_ms = steady(pictures, 10, true);
    return film;
}

} // namespace

TEST_CASE("a film's name is one moving file or has a place for the number, what is neither says what would do") {
    CHECK(std::get<FilmName>(read_film_name("a/turn.webp")).moving);
    CHECK(std::get<FilmName>(read_film_name("TURN.WEBP")).moving);
    struct Row {
        const char *text, *first, *thousandth;
    };
    for (const Row& row : {Row{"frames/press-%03d.png", "frames/press-001.png", "frames/press-1000.png"},
                           Row{"%d.png", "1.png", "1000.png"}, Row{"a%6db.png", "a000001b.png", "a001000b.png"}}) {
        const auto read = read_film_name(row.text);
        REQUIRE(std::holds_alternative<FilmName>(read));
        CHECK(!std::get<FilmName>(read).moving);
        CHECK(numbered(std::get<FilmName>(read), 1) == row.first);
        CHECK(numbered(std::get<FilmName>(read), 1000) == row.thousandth);
    }
    for (const char* text : {"", "turn", ".webp", "turn.gif", "turn.png", "turn-%03d.webp", "%d-%d.png", "%s.png",
                             "%n.png", "%03.png", "%", "%1234567d.png", "%d/turn.png", "turn%03d"}) {
        CAPTURE(text);
        const auto read = read_film_name(text);
        REQUIRE(std::holds_alternative<Unreadable>(read));
        CHECK(std::get<Unreadable>(read).why.find("turn.webp") != std::string::npos);
    }
}

TEST_CASE("a moving file holds every picture for its time, starts again for ever, and shows what was drawn") {
    const Folder folder;
    const fs::path file = folder.path / "deep" / "stroke.webp";
    Progress progress;
    REQUIRE(save_film(small_film(5), std::get<FilmName>(read_film_name(file.string())), progress));
    CHECK(progress.fraction() == 1.0);
    const Container found = read_container(bytes_of(file));
    CHECK(found.animated);
    CHECK(found.width == 160);
    CHECK(found.height == 100);
    CHECK(found.loops == 0);
    CHECK(found.shown_ms == std::vector<unsigned>{1000, 100, 100, 100, 1000});
    CHECK(std::distance(fs::directory_iterator(file.parent_path()), {}) == 1); // nothing else is left
}

TEST_CASE("numbered pictures are written one by one into a folder that is made for them") {
    const Folder folder;
    Progress progress;
    REQUIRE(save_film(small_film(3), std::get<FilmName>(read_film_name((folder.path / "new" / "p-%02d.png").string())),
                      progress));
    for (const char* name : {"p-01.png", "p-02.png", "p-03.png"}) {
        CHECK(bytes_of(folder.path / "new" / name).substr(1, 3) == "PNG");
    }
    CHECK(bytes_of(folder.path / "new" / "p-01.png") != bytes_of(folder.path / "new" / "p-03.png")); // the platen rose
}

TEST_CASE("of a film that is stopped, or cannot be written, nothing is left") {
    const Folder folder;
    for (const char* name : {"p-%02d.png", "turn.webp"}) {
        Progress progress;
        Film film = small_film(4);
        film.finish = [&](std::size_t i, Image&) {
            if (i == 2) {
                progress.cancel();
            }
        };
        CHECK(!save_film(film, std::get<FilmName>(read_film_name((folder.path / name).string())), progress));
        CHECK(fs::is_empty(folder.path));
    }
    Progress progress;
    CHECK_THROWS_AS(
        (void)save_film(small_film(2), std::get<FilmName>(read_film_name("/proc/none/turn.webp")), progress),
        std::runtime_error);
    CHECK_THROWS_AS(AnimatedWebp(20000, 10), std::runtime_error);
    AnimatedWebp film(8, 8);
    CHECK_THROWS_AS(film.add(Image{4, 4, std::vector<std::uint8_t>(64)}, 10), std::invalid_argument);
}

TEST_CASE("on a turntable the whole press is in the picture at every angle") {
    const Assembly assembly = assemble(shop_setup(24, 8));
    for (const char* view : {"corner", "front", "top"}) {
        for (const double aspect : {0.7, 1.6}) {
            const Camera start = turntable_camera(assembly, view, aspect);
            const Vec3 pivot = reach_over_stroke(assembly).centre_mm();
            const int height = 1000;
            const int width = static_cast<int>(height * aspect);
            bool all = true;
            for (int i = 0; i < 37; ++i) {
                FrameRequest request;
                request.camera = orbited(start, pivot, 2.0 * std::numbers::pi * i / 37, 0.0);
                for (const DrawnBody& body : frame_of(assembly, request).bodies) {
                    for (const Vec3& vertex : body.mesh->vertices_mm) {
                        const auto at = pixel_of(*request.camera, width, height, body.pose.apply(vertex));
                        all = all && at && at->x > 0 && at->x < width && at->y > 0 && at->y < height;
                    }
                }
            }
            CHECK(all);
        }
    }
}
