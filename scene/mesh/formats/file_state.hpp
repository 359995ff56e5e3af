// scene/mesh/formats/file_state.hpp: what tells whether somebody wrote into a file between two moments.
//
// By its size and by the time of its writing. Of that time two things are not told: the system counts it in ticks of some
// milliseconds, and it stamps a long writing once, when that begins. So a file that was written into in this tick is waited for, and
// who has it open for writing as it is looked at is asked for, too (a lease: fcntl(2); only the file's owner may ask, on a file
// system of this machine).
#pragma once

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <optional>

namespace evenclose {

class FileState {
public:
    /// Of an open file; nothing where the system does not tell (errno says why). Waits a tick where it was written into just now.
    [[nodiscard]] static std::optional<FileState> of(int descriptor);

    /// Somebody is writing into it now, as far as the system tells. Not of what cannot be opened.
    [[nodiscard]] static bool being_written(const std::filesystem::path& file);

    [[nodiscard]] std::size_t size() const { return size_; }
    /// Nobody has written into it since, nor was writing then, as far as the system tells: what was read meanwhile is one state.
    [[nodiscard]] bool lasts(int descriptor) const;

private:
    FileState(std::size_t size, std::int64_t written_ns) : size_(size), written_ns_(written_ns) {}
    std::size_t size_;
    std::int64_t written_ns_; // since 1970
    bool being_written_ = false;
};

} // namespace evenclose
