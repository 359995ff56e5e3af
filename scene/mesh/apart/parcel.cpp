#include "scene/mesh/apart/parcel.hpp"

#include "scene/mesh/large_memory.hpp"

#include <fcntl.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <bit>
#include <cerrno>
#include <cmath>
#include <cstring>
#include <limits>
#include <memory>
#include <string_view>
#include <type_traits>
#include <utility>

namespace evenclose {
namespace {

constexpr std::uint64_t kMark = 0x45564e434c303031; // this form of the head
constexpr int kSeals = F_SEAL_SEAL | F_SEAL_SHRINK | F_SEAL_GROW | F_SEAL_WRITE;

struct Head {
    std::uint64_t mark = kMark;
    std::uint64_t read = 0; // 1: a mesh, 0: words why not
    std::uint64_t corners = 0, triangles = 0, words = 0;
    std::uint64_t corners_read = 0;
    std::uint64_t has_unit = 0;
    double unit_mm = 0;
    std::uint64_t notes = 0, parts = 0; // how many of the words are which
};
static_assert(std::is_trivially_copyable_v<Vec3> && sizeof(Vec3) == 24);
static_assert(std::is_trivially_copyable_v<TriangleCorners> && sizeof(TriangleCorners) == 12);

// Kept small: a message is a line, and a list of parts is read by a person.
constexpr std::size_t kMostLines = 100'000;
constexpr std::size_t kLongestLine = 1000;

bool write_all(int file, const void* from, std::size_t size) {
    const char* at = static_cast<const char*>(from);
    while (size > 0) {
        const ssize_t done = ::write(file, at, size);
        if (done < 0 && errno == EINTR) {
            continue;
        }
        if (done <= 0) {
            return false;
        }
        at += done;
        size -= static_cast<std::size_t>(done);
    }
    return true;
}

/// Lines one after the other, each with its end; a line has no line end within.
void add_line(std::string& words, std::string_view line) {
    for (const char c : line.substr(0, kLongestLine)) {
        words += c == '\n' ? ' ' : c;
    }
    words += '\n';
}

class Reading {
public:
    Reading(int file, std::uint64_t size) : file_(file), left_(size) {}

    bool take(void* into, std::size_t size) {
        if (size > left_) {
            return false;
        }
        char* at = static_cast<char*>(into);
        std::size_t wanted = size;
        while (wanted > 0) {
            const ssize_t got = ::pread(file_, at, wanted, at_);
            if (got < 0 && errno == EINTR) {
                continue;
            }
            if (got <= 0) {
                return false;
            }
            at += got;
            at_ += got;
            wanted -= static_cast<std::size_t>(got);
        }
        left_ -= size;
        return true;
    }
    [[nodiscard]] std::uint64_t left() const { return left_; }

private:
    int file_;
    off_t at_ = 0;
    std::uint64_t left_;
};

// In pieces that stay in the near caches: looked at there, then added.
constexpr std::size_t kPiece_bytes = std::size_t{192} << 10U;

/// Adds `count` items to `list`, each piece held against `right`.
template <class T, class Right> bool take_list(Reading& from, std::uint64_t count, std::vector<T>& list, Right right) {
    reserve_large(list, count);
    const std::size_t most = kPiece_bytes / sizeof(T);
    const auto piece = std::make_unique_for_overwrite<std::byte[]>(most * sizeof(T));
    const T* items = reinterpret_cast<const T*>(piece.get());
    while (count > 0) {
        const std::size_t now = static_cast<std::size_t>(std::min<std::uint64_t>(count, most));
        if (!from.take(piece.get(), now * sizeof(T)) || !right(items, now)) {
            return false;
        }
        list.insert(list.end(), items, items + now);
        count -= now;
    }
    return true;
}

bool all_finite(const Vec3* corners, std::size_t count) {
    // An exponent of ones is infinite or no number. Added up without a branch, so that several go at once.
    constexpr std::uint64_t exponent = 0x7FF0000000000000ULL;
    std::uint64_t bad = 0;
    for (std::size_t i = 0; i < count; ++i) {
        for (int axis = 0; axis < 3; ++axis) {
            bad |= (std::bit_cast<std::uint64_t>(corners[i][axis]) & exponent) == exponent ? 1U : 0U;
        }
    }
    return bad == 0;
}

} // namespace

Handle lay_down(const RawResult& result) {
    Handle memory(::memfd_create("mesh", MFD_CLOEXEC | MFD_ALLOW_SEALING));
    if (!memory.open()) {
        return {};
    }
    Head head;
    std::string words;
    const auto* raw = std::get_if<RawMesh>(&result);
    if (raw != nullptr) {
        head.read = 1;
        head.corners = raw->mesh.vertices_mm.size();
        head.triangles = raw->mesh.triangles.size();
        head.corners_read = raw->corners_read;
        head.has_unit = raw->unit ? 1 : 0;
        head.unit_mm = raw->unit ? raw->unit->mm : 0;
        head.notes = std::min(raw->notes.size(), kMostLines);
        head.parts = std::min(raw->parts.size(), kMostLines);
        add_line(words, raw->unit ? raw->unit->name : "");
        for (std::size_t i = 0; i < head.notes; ++i) {
            add_line(words, raw->notes[i]);
        }
        for (std::size_t i = 0; i < head.parts; ++i) {
            add_line(words, raw->parts[i]);
        }
    } else {
        add_line(words, std::get<NotRead>(result).why);
    }
    head.words = words.size();
    const bool laid =
        write_all(memory.number(), &head, sizeof head) &&
        (raw == nullptr ||
         (write_all(memory.number(), raw->mesh.vertices_mm.data(), head.corners * sizeof(Vec3)) &&
          write_all(memory.number(), raw->mesh.triangles.data(), head.triangles * sizeof(TriangleCorners)))) &&
        write_all(memory.number(), words.data(), words.size());
    if (!laid || ::fcntl(memory.number(), F_ADD_SEALS, kSeals) != 0) {
        return {};
    }
    return memory;
}

std::variant<RawResult, std::string> take_up(const Handle& parcel, std::uint64_t most_bytes) {
    using Wrong = std::string;
    if (::fcntl(parcel.number(), F_GET_SEALS) != kSeals) {
        return Wrong("is not sealed");
    }
    struct stat about {};
    if (::fstat(parcel.number(), &about) != 0 || about.st_size < 0) {
        return Wrong("has no size");
    }
    const auto size = static_cast<std::uint64_t>(about.st_size);
    if (size > most_bytes) {
        return Wrong("is too large");
    }
    Reading from(parcel.number(), size);
    Head head;
    if (!from.take(&head, sizeof head) || head.mark != kMark || head.read > 1 || head.has_unit > 1) {
        return Wrong("has no right head");
    }
    // Each count by itself first, so that no sum overflows.
    if (head.corners > size / sizeof(Vec3) || head.triangles > size / sizeof(TriangleCorners) || head.words > size ||
        head.notes > kMostLines || head.parts > kMostLines ||
        sizeof head + head.corners * sizeof(Vec3) + head.triangles * sizeof(TriangleCorners) + head.words != size ||
        head.corners > std::numeric_limits<std::uint32_t>::max() ||
        (head.read == 0 && (head.corners > 0 || head.triangles > 0))) {
        return Wrong("has counts that do not go with its size");
    }
    RawMesh raw;
    if (!take_list(from, head.corners, raw.mesh.vertices_mm, all_finite)) {
        return Wrong("has a corner that is not finite");
    }
    const auto there = [corners = static_cast<std::uint32_t>(head.corners)](const TriangleCorners* triangles,
                                                                            std::size_t count) {
        std::uint32_t highest = 0;
        for (std::size_t i = 0; i < count; ++i) {
            highest = std::max({highest, triangles[i][0], triangles[i][1], triangles[i][2]});
        }
        return count == 0 || highest < corners;
    };
    if (!take_list(from, head.triangles, raw.mesh.triangles, there)) {
        return Wrong("has a triangle of corners that are not there");
    }
    std::string words(static_cast<std::size_t>(head.words), '\0');
    if (!from.take(words.data(), words.size()) || words.empty() || words.back() != '\n') {
        return Wrong("has no words");
    }
    std::vector<std::string> lines;
    for (std::size_t at = 0; at < words.size();) {
        const std::size_t end = words.find('\n', at);
        if (end - at > kLongestLine || lines.size() > 2 * kMostLines) {
            return Wrong("has too many words");
        }
        lines.push_back(words.substr(at, end - at));
        at = end + 1;
    }
    if (head.read == 0) {
        return RawResult(NotRead{lines.front().empty() ? std::string("cannot be read") : lines.front()});
    }
    if (lines.size() != 1 + head.notes + head.parts) {
        return Wrong("has other words than it says");
    }
    if (head.has_unit == 1) {
        if (!std::isfinite(head.unit_mm) || head.unit_mm <= 0) {
            return Wrong("has a unit that is none");
        }
        raw.unit = FileUnit{head.unit_mm, lines.front()};
    }
    raw.corners_read = static_cast<std::size_t>(head.corners_read);
    const auto notes = lines.begin() + 1;
    const auto parts = notes + static_cast<std::ptrdiff_t>(head.notes);
    raw.notes.assign(notes, parts);
    raw.parts.assign(parts, lines.end());
    return RawResult(std::move(raw));
}

} // namespace evenclose
