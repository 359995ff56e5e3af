// A file whose writer is not done yet, or keeps it open for ever: which of both is taken for whole.
#include "scene/documents/source_file.hpp"
#include "scene/mesh/formats/file_state.hpp"
#include "scene/mesh/formats/open_file.hpp"
#include "scene/mesh/import.hpp"
#include "tests/scene/mesh/imported.hpp"
#include "tests/scene/mesh/mesh_files.hpp"

#include <doctest/doctest.h>

#include <chrono>
#include <filesystem>
#include <fstream>
#include <memory>
#include <string>
#include <thread>
#include <variant>

using namespace evenclose;
using namespace evenclose::test;
using namespace std::chrono_literals;

namespace {

/// Keeps the file open for writing, as a writing does that is under way.
class Writer {
public:
    explicit Writer(const std::filesystem::path& file)
        : stream_(file, std::ios::binary | std::ios::in | std::ios::out) {}
    void write(const std::string& bytes) { stream_ << bytes << std::flush; }

private:
    std::fstream stream_;
};

bool whole(const std::filesystem::path& file) {
    const auto opened = OpenFile::open(file);
    return std::get<OpenFile>(opened).unchanged();
}

} // namespace

TEST_CASE("a file is not whole while its writer has it open, and is once that is done") {
    const Folder folder;
    const auto file = folder.write("block.stl", binary_stl(block()));
    CHECK(whole(file));
    CHECK_FALSE(FileState::being_written(file));
    {
        const Writer writer(file); // has written nothing yet: the time of the file says nothing
        CHECK_FALSE(whole(file));
        CHECK(FileState::being_written(file));
        const ImportResult mesh = import_mesh(file, LengthUnit::mm);
        CHECK(std::get<ImportFault>(mesh).why == kChangedWhileRead);
        const auto document = read_source_file(file);
        CHECK(std::get<DocumentFault>(document).problem == "changed while it was read");
    }
    CHECK(whole(file));
    CHECK_FALSE(FileState::being_written(file));
    CHECK(std::holds_alternative<ImportedMesh>(import_mesh(file, LengthUnit::mm)));
    CHECK(std::holds_alternative<std::string>(read_source_file(file)));
}

TEST_CASE("a mesh is not whole while a file that it names is written into") {
    const Folder folder;
    const TriangleMesh mesh = block();
    const auto file = folder.write("block.gltf", gltf_json(mesh, "[{\"mesh\":0}]", "block.bin"));
    const auto buffer = folder.write("block.bin", gltf_buffer(mesh));
    CHECK(std::holds_alternative<ImportedMesh>(import_mesh(file, LengthUnit::m)));
    {
        const Writer writer(buffer);
        CHECK(whole(file));
        const ImportResult result = import_mesh(file, LengthUnit::m);
        CHECK(std::get<ImportFault>(result).why == kChangedWhileRead);
    }
    CHECK(std::holds_alternative<ImportedMesh>(import_mesh(file, LengthUnit::m)));
}

TEST_CASE("a document whose writer is done within a moment is read, and nobody asks again") {
    const Folder folder;
    const auto file = folder.write("x.press.json", "of before");
    auto writer = std::make_unique<Writer>(file);
    std::thread done([&writer] {
        std::this_thread::sleep_for(30ms);
        writer->write("thereafter");
        writer.reset();
    });
    const auto read = read_source_file(file);
    done.join();
    CHECK(std::get<std::string>(read) == "thereafter");
}

TEST_CASE("a file that a program keeps open for writing, but wrote into long ago, is whole") {
    const Folder folder;
    const auto file = folder.write("block.stl", binary_stl(block()));
    const Writer writer(file);
    const auto now = std::filesystem::file_time_type::clock::now();
    struct Row {
        std::chrono::seconds ago;
        bool whole;
    };
    for (const Row& row : {Row{5s, false}, Row{60s, true}, Row{-3600s, true}}) {
        CAPTURE(row.ago.count());
        std::filesystem::last_write_time(file, now - row.ago);
        CHECK(whole(file) == row.whole);
    }
}

TEST_CASE("two writings within a tick of the clock that files are stamped with are told apart") {
    const Folder folder;
    const auto file = folder.write("block.stl", binary_stl(block()));
    for (int i = 0; i < 50; ++i) {
        Writer(file).write("one");
        const auto opened = OpenFile::open(file);
        Writer(file).write("two");
        CHECK_FALSE(std::get<OpenFile>(opened).unchanged());
    }
}
