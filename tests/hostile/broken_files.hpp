// tests/hostile/broken_files.hpp: mesh files that are broken on purpose, by a fixed seed: cut, bytes changed, shapes that no
// mold has, and what others made to break importers.
#pragma once

#include <cstdint>
#include <filesystem>
#include <string>
#include <vector>

namespace evenclose::test {

struct BrokenFile {
    std::string kind; // "cut", "bytes", "shape", "of others"
    std::string name; // with its ending; tells what was done
    std::string bytes;
    std::filesystem::path original; // in place of bytes: where it lies
};

/// Makes one after the other; the same for the same number.
class BrokenFiles {
public:
    /// `demo`: a folder of meshes, each cut at every hundredth. `others`: folders of files that others made.
    BrokenFiles(const std::filesystem::path& demo, const std::vector<std::filesystem::path>& others);
    /// How many are made of files rather than by chance.
    [[nodiscard]] std::size_t fixed() const { return cuts_.size() * 99 + others_.size(); }
    /// The first fixed() are cut and of others, the rest by chance without end.
    [[nodiscard]] BrokenFile make(std::size_t number) const;

private:
    struct Seed {
        std::string ending, bytes;
    };
    std::vector<std::filesystem::path> cuts_, others_;
    std::vector<Seed> seeds_;
};

} // namespace evenclose::test
