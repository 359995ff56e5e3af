// The command line's pictures and films.
#include "tests/viewer/ran.hpp"
#include "tests/viewer/readme_documents.hpp"

#include <doctest/doctest.h>

#include <filesystem>
#include <string>
#include <vector>

using namespace evenclose::test;

namespace fs = std::filesystem;

TEST_CASE("cli: once round and over the stroke, as one moving file or as numbered pictures") {
    const ReadmeDocuments box("films");
    const std::string setup = box.path("box.set-up.json");
    const std::string turn = box.path("turn.webp");
    Ran done = ran({"picture", setup, "-o", turn, "--size", "160x100", "--turntable", "4"});
    CHECK(done.exit == 0);
    CHECK(done.out.find("once round, 4 pictures of 160 x 100") != std::string::npos);
    CHECK(fs::file_size(turn) > 1000);
    done = ran({"picture", setup, "-o", box.path("f/s-%02d.png"), "--size", "160x100", "--stroke", "3", "--section",
                "y=0", "--view", "front"});
    CHECK(done.exit == 0);
    CHECK(done.out.find("s-01.png to ") != std::string::npos);
    CHECK(fs::exists(box.path("f/s-03.png")));
    CHECK(!fs::exists(box.path("f/s-04.png")));
}

TEST_CASE("cli: a picture is cut open, bodies are hidden, seen through, alone, it says so, and what is misspelt") {
    const ReadmeDocuments box("sections");
    const std::string setup = box.path("box.set-up.json");
    const std::string file = box.path("cut.png");
    Ran done = ran({"picture", setup, "-o", file, "--size", "320x200", "--section", "x=0", "--hide", "head"});
    CHECK(done.exit == 0);
    CHECK(done.out.find("cut open across X at 0 mm") != std::string::npos);
    CHECK(done.out.find("1 body hidden") != std::string::npos);
    CHECK(fs::file_size(file) > 1000);
    done = ran({"picture", setup, "-o", file, "--size", "320x200", "--section", "x=0", "--flip"});
    CHECK(done.out.find("turned away") != std::string::npos);
    done = ran({"picture", setup, "-o", file, "--size", "320x200", "--only", "platen", "--only", "left jack"});
    CHECK(done.exit == 0);
    CHECK(done.out.find("hidden") != std::string::npos);
    CHECK(ran({"picture", setup, "-o", file, "--see-through", "plaiten"}).err.find("did you mean \"platen\"?") !=
          std::string::npos);
}

TEST_CASE("cli: a picture is written without a display, and a place that cannot be written is told") {
    const ReadmeDocuments box("picture");
    const std::string file = box.path("press.png");
    const Ran run =
        ran({"picture", box.path("box.set-up.json"), "-o", file, "--size", "320x200", "--travel", "closed"});
    CAPTURE(run.err);
    CHECK(run.exit == 0);
    CHECK(bytes_of(file).starts_with("\x89PNG"));
    for (const std::vector<std::string>& extra : {std::vector<std::string>{"--map", "cavity"},
                                                  {"--map", "bend"},
                                                  {"--cut"},
                                                  {"--map", "pressure"},
                                                  {"--forces"}}) {
        CAPTURE(extra.back());
        const std::string measured = box.path("measured.png");
        std::vector<std::string> words{"picture", demo("crescent.set-up.json"), "-o", measured, "--size", "320x200"};
        words.insert(words.end(), extra.begin(), extra.end());
        const Ran drawn = ran(words);
        CAPTURE(drawn.err);
        CHECK(drawn.exit == 0);
        CHECK(bytes_of(measured).starts_with("\x89PNG"));
    }
    CHECK(ran({"picture", demo("crescent.set-up.json"), "-o", "x.png", "--map", "cavty"})
              .err.find("did you mean cavity?") != std::string::npos);
    const Ran nowhere = ran({"picture", box.path("box.set-up.json"), "-o", "/nowhere/at/all.png"});
    CHECK(nowhere.exit == 2);
    CHECK(lines_of(nowhere.err) == 1);
}
