#include "scene/mesh/formats/obj.hpp"

#include "scene/mesh/formats/polygon_soup.hpp"
#include "scene/mesh/formats/text_scan.hpp"
#include "scene/mesh/formats/welder.hpp"
#include "scene/mesh/large_memory.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstring>
#include <string>
#include <utility>

namespace evenclose {
namespace {

// A vertex and its two triangles take some 80 to 120 bytes of text. Memory that is set aside and not needed costs nothing.
constexpr std::size_t kBytesAVertex = 100;
constexpr std::size_t kBytesATriangle = 45;

bool blank(char c) { return c == ' ' || c == '\t'; }

/// A face that names a vertex which has not come yet.
struct LateFace {
    std::size_t number = 0; // from 1
    std::vector<std::uint32_t> corners;
};
constexpr std::uint32_t kMissing = 0xFFFFFFFFU;

class ObjReader {
public:
    explicit ObjReader(std::size_t bytes) {
        reserve_large(vertices_, bytes / kBytesAVertex);
        reserve_large(raw_.mesh.triangles, bytes / kBytesATriangle);
    }

    /// One line, its end not among it. False if it is wrong: see fault().
    bool take(const char* at, const char* end) {
        ++line_;
        while (at != end && blank(*at)) {
            ++at;
        }
        if (end - at < 2 || !blank(at[1])) {
            return true;
        }
        return *at == 'v' ? vertex(at + 2, end) : *at != 'f' || face(at + 2, end);
    }
    /// Further lines that were joined to the last one.
    void skip_lines(std::size_t count) { line_ += count; }
    [[nodiscard]] const NotRead& fault() const { return fault_; }

    RawResult finish() {
        for (const LateFace& late : late_) {
            for (const std::uint32_t corner : late.corners) {
                if (corner >= vertices_.size()) {
                    return NotRead{fmt::format("face {} has a vertex that is not there (there are {})", late.number,
                                               vertices_.size())};
                }
            }
            cut_face(late.corners, vertices_, raw_.mesh.triangles);
        }
        if (left_out_ > 0) {
            raw_.notes.push_back(fmt::format("{} faces of fewer than three corners were not read", left_out_));
        }
        raw_.corners_read = 3 * raw_.mesh.triangles.size();
        weld();
        return std::move(raw_);
    }

private:
    bool wrong(const std::string& what) {
        fault_ = {fmt::format("line {}: {}", line_, what)};
        return false;
    }

    bool vertex(const char* at, const char* end) {
        Vec3 place{0.0};
        for (int axis = 0; axis < 3; ++axis) {
            while (at != end && blank(*at)) {
                ++at;
            }
            const auto [stop, error] = std::from_chars(at, end, place[axis]);
            if (error == std::errc{} && (stop == end || blank(*stop)) && std::isfinite(place[axis])) {
                at = stop;
                continue;
            }
            // "+1", too small for a double, or no number.
            TextScan scan(std::string_view(at, static_cast<std::size_t>(end - at)));
            const std::string_view word = scan.word();
            const std::optional<double> value = number_in(word);
            if (!value || !std::isfinite(*value)) {
                return wrong(word.empty() ? "a vertex needs three coordinates"
                                          : fmt::format("{} is no finite coordinate", shortened(word)));
            }
            place[axis] = *value;
            at = word.data() + word.size();
        }
        vertices_.push_back(place);
        return true;
    }

    bool face(const char* at, const char* end) {
        corners_.clear();
        bool there = true;
        while (true) {
            while (at != end && blank(*at)) {
                ++at;
            }
            if (at == end || *at == '#') {
                break;
            }
            std::int64_t written = 0;
            const char* digits = *at == '-' ? at + 1 : at;
            const char* stop = digits;
            for (; stop != end && *stop >= '0' && *stop <= '9'; ++stop) {
                written = std::min<std::int64_t>(written * 10 + (*stop - '0'), std::int64_t{1} << 40U);
            }
            if (stop == digits || (stop != end && *stop != '/' && !blank(*stop))) {
                TextScan scan(std::string_view(at, static_cast<std::size_t>(end - at)));
                return wrong(fmt::format("{} is no vertex number", shortened(scan.word())));
            }
            const auto count = static_cast<std::int64_t>(vertices_.size());
            const std::int64_t number = *at == '-' ? count - written : written - 1;
            // 0 is none, and there are never so many.
            const bool none = written == 0 || number < 0 || number >= static_cast<std::int64_t>(kMissing);
            there = there && !none && number < count;
            corners_.push_back(none ? kMissing : static_cast<std::uint32_t>(number));
            for (at = stop; at != end && !blank(*at); ++at) { // past "/vt/vn"
            }
        }
        if (corners_.size() < 3) {
            ++left_out_;
            return true;
        }
        ++faces_;
        if (!there) {
            late_.push_back({faces_, corners_});
        } else if (corners_.size() == 3) {
            raw_.mesh.triangles.push_back({corners_[0], corners_[1], corners_[2]});
        } else {
            cut_face(corners_, vertices_, raw_.mesh.triangles);
        }
        return true;
    }

    /// Vertices that no face uses go; equal ones become one.
    void weld() {
        Welder welder(vertices_.size());
        std::vector<std::uint32_t> number(vertices_.size(), kMissing);
        for (TriangleCorners& triangle : raw_.mesh.triangles) {
            for (std::uint32_t& corner : triangle) {
                if (number[corner] == kMissing) {
                    number[corner] = welder.add(vertices_[corner]);
                }
                corner = number[corner];
            }
        }
        raw_.mesh.vertices_mm = welder.take();
    }

    RawMesh raw_;
    std::vector<Vec3> vertices_;
    std::vector<std::uint32_t> corners_;
    std::vector<LateFace> late_;
    std::size_t line_ = 0, faces_ = 0, left_out_ = 0;
    NotRead fault_;
};

/// The first end of a line in the text: '\n', '\r' or both; nothing if it goes on beyond the text.
const char* line_end(const char* at, const char* end, bool carriage_returns) {
    if (!carriage_returns) {
        const void* found = std::memchr(at, '\n', static_cast<std::size_t>(end - at));
        return found != nullptr ? static_cast<const char*>(found) : end;
    }
    return std::find_if(at, end, [](char c) { return c == '\n' || c == '\r'; });
}

/// A comment or a name may end with "\\" and mean nothing by it.
bool may_go_on(const char* at, const char* end) {
    at = std::find_if_not(at, end, blank);
    return at != end && (*at == 'v' || *at == 'f');
}

/// Parts a piece of the text into lines, those that end with "\" joined.
class ObjLines {
public:
    explicit ObjLines(ObjReader& reader) : reader_(reader) {}

    /// Takes whole lines; gives where the first one begins that is not wholly there. Null if one is wrong.
    const char* take(const char* at, const char* end, bool is_last) {
        const bool carriage_returns = std::memchr(at, '\r', static_cast<std::size_t>(end - at)) != nullptr;
        while (at != end) {
            const char* next = at;
            const char* stop = line_end(at, end, carriage_returns);
            joined_.clear();
            std::size_t more = 0;
            for (bool goes_on = true; goes_on;) {
                // A '\r' at the very end may have its '\n' in the next piece.
                if (!is_last && (stop == end || (*stop == '\r' && stop + 1 == end))) {
                    return at;
                }
                goes_on = stop != next && stop[-1] == '\\' && stop != end && may_go_on(at, stop);
                if (goes_on || more > 0) {
                    joined_.append(next, goes_on ? stop - 1 : stop);
                    joined_ += goes_on ? " " : "";
                }
                const char* line = next;
                next = stop == end ? end : stop + (*stop == '\r' && stop + 1 != end && stop[1] == '\n' ? 2 : 1);
                if (goes_on) {
                    ++more;
                    stop = line_end(next, end, carriage_returns);
                } else if (more == 0 && !reader_.take(line, stop)) {
                    return nullptr;
                }
            }
            if (more > 0 && !reader_.take(joined_.data(), joined_.data() + joined_.size())) {
                return nullptr;
            }
            reader_.skip_lines(more);
            at = next;
        }
        return at;
    }

private:
    ObjReader& reader_;
    std::string joined_;
};

} // namespace

RawResult read_obj(const OpenFile& file, std::size_t piece) {
    ObjReader reader(file.size());
    ObjLines lines(reader);
    std::vector<char> text(piece);
    std::size_t held = 0, offset = 0;
    while (offset < file.size()) {
        if (held == text.size()) { // a line longer than a piece
            text.resize(2 * text.size());
        }
        const std::size_t wanted = std::min(text.size() - held, file.size() - offset);
        if (file.read(offset, text.data() + held, wanted) != wanted) {
            return NotRead{kChangedWhileRead};
        }
        offset += wanted;
        held += wanted;
        const char* begin = text.data();
        const char* end = begin + held;
        if (offset == held && held >= 3 && std::memcmp(begin, "\xEF\xBB\xBF", 3) == 0) {
            begin += 3;
        }
        const char* rest = lines.take(begin, end, offset == file.size());
        if (rest == nullptr) {
            return reader.fault();
        }
        held = static_cast<std::size_t>(end - rest);
        std::memmove(text.data(), rest, held);
    }
    return reader.finish();
}

} // namespace evenclose
