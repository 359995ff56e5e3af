// scene/setup/input_files.hpp: every file that a set-up was read from, with its fingerprint, so that a report says what it is
// about.
#pragma once

#include "scene/setup/setup.hpp"

#include <cstdint>
#include <filesystem>
#include <string>
#include <vector>

namespace evenclose {

struct InputFile {
    std::string what; // "set-up", "press", "mold", "lower half", "member lamp rail", "measured heights"
    std::filesystem::path file;
    std::uintmax_t bytes = 0;
    std::string sha256; // 64 hexadecimal digits (FIPS 180-4); empty: the file cannot be read any more
};

/// In the order of reading, each file once.   Needs: a set-up read from files.   Threads: any.
[[nodiscard]] std::vector<InputFile> input_files(const Setup& setup);

} // namespace evenclose
