#include "scene/mesh/formats/ply.hpp"

#include "scene/mesh/formats/polygon_soup.hpp"
#include "scene/mesh/formats/text_scan.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstring>

namespace evenclose {
namespace {

enum class Type { int8, uint8, int16, uint16, int32, uint32, float32, float64 };

std::optional<Type> type_of(std::string_view word) {
    struct Name {
        std::string_view old_name, name;
        Type type;
    };
    static constexpr Name names[] = {{"char", "int8", Type::int8},        {"uchar", "uint8", Type::uint8},
                                     {"short", "int16", Type::int16},     {"ushort", "uint16", Type::uint16},
                                     {"int", "int32", Type::int32},       {"uint", "uint32", Type::uint32},
                                     {"float", "float32", Type::float32}, {"double", "float64", Type::float64}};
    for (const Name& each : names) {
        if (word == each.old_name || word == each.name) {
            return each.type;
        }
    }
    return {};
}

struct Property {
    std::string name;
    Type type = Type::float32;
    std::optional<Type> count_type; // a list's
};
struct Element {
    std::string name;
    std::size_t count = 0;
    std::vector<Property> properties;
};
enum class Coding { text, little_endian, big_endian };
struct Header {
    Coding coding = Coding::text;
    std::vector<Element> elements;
    std::size_t size = 0; // bytes up to the first element
};

std::variant<Header, NotRead> read_header(std::string_view bytes) {
    Header header;
    bool has_format = false;
    std::size_t at = 0, line_number = 0;
    while (at < bytes.size()) {
        ++line_number;
        const std::size_t end = bytes.find_first_of("\r\n", at);
        if (end == bytes.npos) {
            break;
        }
        const std::string_view line = bytes.substr(at, end - at);
        at = end + (bytes.substr(end).starts_with("\r\n") ? 2 : 1);
        TextScan scan(line);
        const std::string_view word = scan.word();
        const auto fault = [&](std::string_view what) {
            return NotRead{fmt::format("line {} of its head: {}: {}", line_number, what, shortened(line))};
        };
        if (word == "end_header") {
            if (!has_format) {
                return NotRead{"its head has no format line"};
            }
            header.size = at;
            return header;
        }
        if (word == "format") {
            const std::string_view coding = scan.word();
            if (coding != "ascii" && coding != "binary_little_endian" && coding != "binary_big_endian") {
                return fault("unknown format");
            }
            header.coding = coding == "ascii"                  ? Coding::text
                            : coding == "binary_little_endian" ? Coding::little_endian
                                                               : Coding::big_endian;
            has_format = true;
        } else if (word == "element") {
            Element element{std::string(scan.word()), 0, {}};
            const auto count = number_in(scan.word());
            if (!count || !(*count >= 0) || *count != std::floor(*count) || *count > 1e15) {
                return fault("no count");
            }
            element.count = static_cast<std::size_t>(*count);
            header.elements.push_back(std::move(element));
        } else if (word == "property") {
            if (header.elements.empty()) {
                return fault("a property before any element");
            }
            Property property;
            std::string_view type = scan.word();
            if (type == "list") {
                property.count_type = type_of(scan.word());
                type = scan.word();
                if (!property.count_type) {
                    return fault("unknown type");
                }
            }
            const auto known = type_of(type);
            if (!known) {
                return fault("unknown type");
            }
            property.type = *known;
            property.name = scan.word();
            header.elements.back().properties.push_back(std::move(property));
        } // comment, obj_info and the word ply itself say nothing to us
    }
    return NotRead{"is cut short: it ends within its head"};
}

/// The values of a body one after the other.
class Body {
public:
    Body(std::string_view bytes, Coding coding) : bytes_(bytes), coding_(coding), scan_(bytes) {}

    /// Nothing at the end, or where a text has no number.
    std::optional<double> next(Type type) {
        if (coding_ == Coding::text) {
            return number_in(scan_.word());
        }
        switch (type) {
        case Type::int8:
            return load<std::int8_t>();
        case Type::uint8:
            return load<std::uint8_t>();
        case Type::int16:
            return load<std::int16_t>();
        case Type::uint16:
            return load<std::uint16_t>();
        case Type::int32:
            return load<std::int32_t>();
        case Type::uint32:
            return load<std::uint32_t>();
        case Type::float32:
            return load<float>();
        case Type::float64:
            return load<double>();
        }
        return {};
    }
    [[nodiscard]] std::size_t left() const { return coding_ == Coding::text ? scan_.left() : bytes_.size() - at_; }
    /// The text stopped being numbers before its end.
    [[nodiscard]] bool ended() const { return coding_ != Coding::text || scan_.at_end(); }

private:
    template <class T> std::optional<double> load() {
        if (bytes_.size() - at_ < sizeof(T)) {
            at_ = bytes_.size();
            return {};
        }
        char raw[sizeof(T)];
        std::memcpy(raw, bytes_.data() + at_, sizeof(T));
        at_ += sizeof(T);
        constexpr bool little = std::endian::native == std::endian::little;
        if (little != (coding_ == Coding::little_endian)) {
            std::reverse(std::begin(raw), std::end(raw));
        }
        T value;
        std::memcpy(&value, raw, sizeof(T));
        return static_cast<double>(value);
    }

    std::string_view bytes_;
    Coding coding_;
    TextScan scan_;
    std::size_t at_ = 0;
};

class PlyReader {
public:
    PlyReader(const Header& header, std::string_view body) : header_(header), body_(body, header.coding) {}

    RawResult read() {
        for (const Element& element : header_.elements) {
            for (const char* axis : {"x", "y", "z"}) {
                const bool there = std::any_of(element.properties.begin(), element.properties.end(),
                                               [&](const Property& p) { return p.name == axis && !p.count_type; });
                if (element.name == "vertex" && !there) {
                    return NotRead{fmt::format("its vertices have no {}", axis)};
                }
            }
            if (element.properties.empty()) {
                continue;
            }
            // No more than the file can hold, whatever it promises.
            if (element.name == "vertex") {
                soup_.vertices.reserve(std::min(element.count, body_.left() / 3));
            }
            for (std::size_t i = 0; i < element.count; ++i) {
                if (auto wrong = read_one(element, i)) {
                    return *wrong;
                }
            }
        }
        RawResult result = welded(soup_);
        if (auto* raw = std::get_if<RawMesh>(&result); raw != nullptr && left_out_ > 0) {
            raw->notes.push_back(fmt::format("{} faces of fewer than three corners were not read", left_out_));
        }
        return result;
    }

private:
    NotRead cut_short(const Element& element, std::size_t held) const {
        if (!body_.ended()) {
            return {fmt::format("{} {} holds something that is no number", element.name, held + 1)};
        }
        return {fmt::format("is cut short: it promises {} of \"{}\" and holds {}", element.count, element.name, held)};
    }

    std::optional<NotRead> read_one(const Element& element, std::size_t number) {
        const bool is_vertex = element.name == "vertex";
        Vec3 at{0.0};
        for (const Property& property : element.properties) {
            if (property.count_type) {
                if (auto wrong = read_list(element, property, number)) {
                    return wrong;
                }
                continue;
            }
            const auto value = body_.next(property.type);
            if (!value) {
                return cut_short(element, number);
            }
            if (is_vertex && property.name.size() == 1 && property.name[0] >= 'x' && property.name[0] <= 'z') {
                if (!std::isfinite(*value)) {
                    return NotRead{fmt::format("vertex {} is not a finite place", number + 1)};
                }
                at[property.name[0] - 'x'] = *value;
            }
        }
        if (is_vertex) {
            soup_.vertices.push_back(at);
        }
        return {};
    }

    std::optional<NotRead> read_list(const Element& element, const Property& property, std::size_t number) {
        const auto count = body_.next(*property.count_type);
        if (!count) {
            return cut_short(element, number);
        }
        if (!(*count >= 0) || *count != std::floor(*count)) {
            return NotRead{fmt::format("{} {} has a list of {} entries", element.name, number + 1, *count)};
        }
        const bool corners = property.name == "vertex_indices" || property.name == "vertex_index";
        const bool face = corners && element.name == "face";
        const bool strip = corners && element.name == "tristrips";
        list_.clear();
        for (double i = 0; i < *count; ++i) {
            const auto value = body_.next(property.type);
            if (!value) {
                return cut_short(element, number);
            }
            if (face || strip) {
                if (*value != std::floor(*value) || *value > 0xFFFFFFFE || *value < (strip ? -1 : 0)) {
                    return NotRead{
                        fmt::format("{} {} has a vertex that is not there ({})", element.name, number + 1, *value)};
                }
                list_.push_back(*value < 0 ? kRestart : static_cast<std::uint32_t>(*value));
            }
        }
        if (face && list_.size() >= 3) {
            soup_.add_face(list_);
        } else if (face) {
            ++left_out_;
        } else if (strip) {
            add_strip();
        }
        return {};
    }

    /// Every other triangle of a strip is turned round; -1 begins a new one.
    void add_strip() {
        std::size_t begin = 0;
        for (std::size_t i = 0; i < list_.size(); ++i) {
            if (list_[i] == kRestart) {
                begin = i + 1;
            } else if (i >= begin + 2) {
                const bool odd = (i - begin) % 2 == 1;
                const std::uint32_t triangle[3] = {list_[odd ? i - 1 : i - 2], list_[odd ? i - 2 : i - 1], list_[i]};
                if (triangle[0] != triangle[1] && triangle[1] != triangle[2] && triangle[2] != triangle[0]) {
                    soup_.add_face(triangle); // flat ones only join strips
                }
            }
        }
    }

    static constexpr std::uint32_t kRestart = 0xFFFFFFFFU;
    const Header& header_;
    Body body_;
    PolygonSoup soup_;
    std::vector<std::uint32_t> list_;
    std::size_t left_out_ = 0;
};

} // namespace

RawResult read_ply(std::string_view bytes) {
    auto header = read_header(bytes);
    if (const auto* wrong = std::get_if<NotRead>(&header)) {
        return *wrong;
    }
    const auto& head = std::get<Header>(header);
    return PlyReader(head, bytes.substr(head.size)).read();
}

} // namespace evenclose
