// scene/documents/object_cursor.hpp: reads one object of a document key by key, so that a reader looks like a table.
//
// A cursor tells the faults of its object: a word that is no key of it, a missing key, a wrong type, a value out of
// range. A number that could not be read comes back as NaN, and comparing with NaN is false, so that no fault follows
// from a fault; a text comes back empty. All faults land in the DocumentSource, and a document with a fault gives no
// value, so none of these stand-ins gets out.
#pragma once

#include "scene/documents/document_source.hpp"
#include "scene/vec.hpp"

#include <initializer_list>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace evenclose {

/// What a number may be. `wanted` ends the sentence "-20 is no length; give ...".
struct NumberRange {
    double least, most;
    std::string_view wanted;
};

// Beyond a kilometre a unit is mistaken; and squares and cubes of what is below keep 1e-9 mm in a double.
inline constexpr double kLongest_mm = 1e6;
// A micron: nothing in a press is thinner, and what is tells of a mistaken unit or of no thickness at all.
inline constexpr double kThinnest_mm = 0.001;

inline constexpr NumberRange kAnyLength{-kLongest_mm, kLongest_mm, R"(a length, such as "180 mm" or "7 in")"};
inline constexpr NumberRange kZeroOrMore{0, kLongest_mm, R"(0 or a positive one, such as "180 mm" or "7 in")"};
inline constexpr NumberRange kPositive{kThinnest_mm, kLongest_mm, R"(a positive one, such as "180 mm" or "7 in")"};

class ObjectCursor {
public:
    /// The document itself.
    explicit ObjectCursor(DocumentSource& source);
    /// An object at `place`; `value` null: it is missing and that has been told.
    ObjectCursor(DocumentSource& source, const SourceValue* value, std::string place, std::string_view object);

    /// Something to read is there. If not, every read below gives a stand-in and tells nothing.
    [[nodiscard]] bool there() const { return object_ != nullptr; }
    [[nodiscard]] bool has(std::string_view key) const { return object_ != nullptr && object_->find(key) != nullptr; }
    /// What stands there; nothing if the key is missing.
    [[nodiscard]] std::optional<SourceValue::Kind> kind_of(std::string_view key) const;
    /// A word that is no key of the object was most likely meant for this one, and that has been told.
    [[nodiscard]] bool misspelt(std::string_view key) const;
    [[nodiscard]] const std::string& place() const { return place_; }

    // Each takes what holds if the key is left out; without that the key must be there.
    [[nodiscard]] double length_mm(std::string_view key, const NumberRange& range,
                                   std::optional<double> otherwise = {});
    [[nodiscard]] double force_N(std::string_view key);
    [[nodiscard]] double angle_rad(std::string_view key, std::optional<double> otherwise = {});
    // Above 0, and less than what only a mistaken unit makes.
    [[nodiscard]] double mass_kg(std::string_view key);
    [[nodiscard]] double density_kg_per_m3(std::string_view key);
    [[nodiscard]] double torque_Nmm(std::string_view key);
    [[nodiscard]] double pressure_MPa(std::string_view key);
    [[nodiscard]] double turns_a_second(std::string_view key);
    [[nodiscard]] double flow_mm3_a_second(std::string_view key);
    /// From 0 to a year: nothing here takes longer.
    [[nodiscard]] double duration_s(std::string_view key, std::optional<double> otherwise = {});
    /// Of a place where people work: what is beyond tells of a mistaken scale.
    [[nodiscard]] double temperature_C(std::string_view key);
    /// A number or "1 %".
    [[nodiscard]] double fraction(std::string_view key, const NumberRange& range, std::optional<double> otherwise = {});
    [[nodiscard]] int count(std::string_view key, int least, int most, std::optional<int> otherwise = {});
    [[nodiscard]] bool yes_no(std::string_view key, bool otherwise);
    /// Of one line, not blank.
    [[nodiscard]] std::string text(std::string_view key, const std::optional<std::string>& otherwise = {});
    /// What may stand in every document and says nothing about the press: "unit" (taken by the source already) and
    /// "note", text of any length and any number of lines.
    void read_preamble();
    /// Which of `words` is there; the first if none of them.
    [[nodiscard]] std::size_t choice(std::string_view key, std::span<const std::string_view> words,
                                     std::optional<std::size_t> otherwise = {});
    /// Each item of a list of `least` to `most` that must be one of `words`: which one. `what` they are: "jack".
    [[nodiscard]] std::vector<std::size_t> choices(std::string_view key, std::span<const std::string_view> words,
                                                   std::size_t least, std::size_t most, std::string_view what);
    /// A list of as many lengths as `count`.
    [[nodiscard]] std::vector<double> length_list_mm(std::string_view key, std::size_t count, const NumberRange& range);
    /// A list of `least` to `most` lengths.
    [[nodiscard]] std::vector<double> length_list_mm(std::string_view key, std::size_t least, std::size_t most,
                                                     const NumberRange& range);
    [[nodiscard]] std::optional<std::string> unit(std::string_view key);

    /// As many lengths as `names`, in a list: [x, y, z] or [width, depth].
    [[nodiscard]] std::vector<double> lengths_mm(std::string_view key, std::initializer_list<std::string_view> names,
                                                 const NumberRange& range, std::optional<double> otherwise = {});
    [[nodiscard]] Vec2 vec2_mm(std::string_view key, std::initializer_list<std::string_view> names,
                               const NumberRange& range, std::optional<double> otherwise = {});
    [[nodiscard]] Vec3 vec3_mm(std::string_view key, std::initializer_list<std::string_view> names,
                               const NumberRange& range, std::optional<double> otherwise = {});

    /// A list of places [[x, y], ...], at least `least` of them. Empty if it is missing or wrong, which is told.
    [[nodiscard]] std::vector<Vec2> places_mm(std::string_view key, std::size_t least);

    [[nodiscard]] ObjectCursor object(std::string_view key, std::string_view object, bool may_be_missing = false);
    /// `wanted` ends the sentence if there are too few: "give two jacks or more".
    [[nodiscard]] std::vector<ObjectCursor> objects(std::string_view key, std::string_view object, std::size_t least,
                                                    std::string_view wanted);

    /// The one of `keys` that is there; none or more than one is a fault, and gives an empty word.
    [[nodiscard]] std::string_view one_of(std::initializer_list<std::string_view> keys);

    /// Tells a fault of the key's value, which is there. Nothing if the key is missing, which was told elsewhere.
    void refuse(std::string_view key, std::string problem, std::string allowed, std::string_view nearest = {});
    void refuse_item(std::string_view key, std::size_t index, std::string problem, std::string allowed);
    /// Tells a fault of the object as a whole.
    void refuse_whole(std::string problem, std::string allowed);

private:
    struct Quantity;
    [[nodiscard]] const SourceValue* value(std::string_view key, bool required, std::string_view wanted);
    [[nodiscard]] double number(const SourceValue& value, const std::string& place, const Quantity& quantity,
                                const NumberRange& range);
    [[nodiscard]] double quantity(std::string_view key, const Quantity& kind, const NumberRange& range);
    [[nodiscard]] Quantity length() const;
    void tell(const SourceValue& at, std::string place, std::string problem, std::string allowed,
              std::string_view nearest = {});
    void check_keys();

    DocumentSource* source_;
    const SourceValue* object_ = nullptr;
    std::string place_;
    const ObjectKeys* keys_;
    std::vector<std::string_view> misspelt_; // right keys that a wrong one of this object is near to
};

} // namespace evenclose
