// scene/mesh/formats/open_file.hpp: an open file, read in order and in large pieces.
//
// Not mapped into memory: a mold file that its CAD program writes anew while it is read would end the program with a
// bus error. Here it is a short read, and told.
#pragma once

#include "scene/mesh/formats/file_state.hpp"

#include <cstddef>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <variant>

namespace evenclose {

class OpenFile {
public:
    /// Gives the file, or in words why it cannot be read: missing, a directory, not a plain file, no permission, empty.
    [[nodiscard]] static std::variant<OpenFile, std::string> open(const std::filesystem::path& path);
    /// A plain file that another process opened and looked at, which is closed in the end. Its size is asked without
    /// fstat: the C library asks that by a name, which a process that reads meshes may not.
    [[nodiscard]] static OpenFile handed_over(int descriptor);
    /// The same as open() of a descriptor that is open already; it is closed with the file, and where there is a fault.
    [[nodiscard]] static std::variant<OpenFile, std::string> adopt(int descriptor);

    OpenFile(OpenFile&& other) noexcept;
    OpenFile& operator=(OpenFile&&) = delete;
    OpenFile(const OpenFile&) = delete;
    OpenFile& operator=(const OpenFile&) = delete;
    ~OpenFile();

    [[nodiscard]] std::size_t size() const { return size_; }
    [[nodiscard]] int descriptor() const { return descriptor_; }
    /// Reads `count` bytes at `offset`; fewer than that only if the file ends or the system fails.
    [[nodiscard]] std::size_t read(std::size_t offset, char* into, std::size_t count) const;
    /// As it was opened; not known of one handed_over().
    [[nodiscard]] const std::optional<FileState>& state() const { return opened_; }
    /// What was read is one state of it; not told of one handed_over().
    [[nodiscard]] bool unchanged() const;

private:
    OpenFile(int descriptor, std::size_t size) : descriptor_(descriptor), size_(size) {}
    int descriptor_ = -1;
    std::size_t size_ = 0;
    std::optional<FileState> opened_;
};

/// A whole file in memory.
struct FileText {
    std::unique_ptr<char[]> bytes;
    std::size_t size = 0;
    [[nodiscard]] std::string_view view() const { return {bytes.get(), size}; }
};
/// Nothing if the file became shorter meanwhile.
[[nodiscard]] std::optional<FileText> whole(const OpenFile& file);

inline constexpr const char* kChangedWhileRead = "the file changed while it was read; try again";

} // namespace evenclose
