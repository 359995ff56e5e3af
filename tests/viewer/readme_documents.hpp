// tests/viewer/readme_documents.hpp: the documents that a newcomer begins with, and texts as the command line's tests look at them.
#pragma once

#include "tests/file_bytes.hpp"
#include "tests/places.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <string>

namespace evenclose::test {

inline long lines_of(const std::string& text) { return std::count(text.begin(), text.end(), '\n'); }

/// The three documents of the README, written into a folder of their own; with them a newcomer begins.
class ReadmeDocuments {
public:
    explicit ReadmeDocuments(const std::string& name)
        : folder_(std::filesystem::temp_directory_path() / ("evenclose-cli-" + name)) {
        std::filesystem::remove_all(folder_);
        std::filesystem::create_directories(folder_);
        const std::string readme = bytes_of(std::filesystem::path(source_folder()) / "README.md");
        std::size_t at = 0;
        for (const char* name_in_readme : {"box.press.json", "box.mold.json", "box.set-up.json"}) {
            at = readme.find(std::string("`") + name_in_readme + "`", at);
            REQUIRE(at != std::string::npos);
            const std::size_t start = readme.find("```json\n", at) + 8;
            write(name_in_readme, readme.substr(start, readme.find("```", start) - start));
        }
    }
    ~ReadmeDocuments() { std::filesystem::remove_all(folder_); }
    ReadmeDocuments(const ReadmeDocuments&) = delete;
    ReadmeDocuments& operator=(const ReadmeDocuments&) = delete;

    [[nodiscard]] std::string path(const std::string& name) const { return (folder_ / name).string(); }
    [[nodiscard]] std::string read(const std::string& name) const { return bytes_of(folder_ / name); }
    void write(const std::string& name, const std::string& text) const { std::ofstream(folder_ / name) << text; }
    void replace(const std::string& name, const std::string& from, const std::string& to) const {
        std::string text = read(name);
        const std::size_t at = text.find(from);
        REQUIRE(at != std::string::npos);
        write(name, text.replace(at, from.size(), to));
    }

private:
    std::filesystem::path folder_;
};

} // namespace evenclose::test
