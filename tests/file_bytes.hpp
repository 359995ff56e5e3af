// tests/file_bytes.hpp: a file as it stands, whole.
#pragma once

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

namespace evenclose::test {

inline std::string bytes_of(const std::filesystem::path& file) {
    std::ifstream stream{file, std::ios::binary};
    return {std::istreambuf_iterator<char>{stream}, {}};
}

} // namespace evenclose::test
