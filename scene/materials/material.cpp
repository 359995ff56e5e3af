#include "scene/materials/material.hpp"

#include "scene/documents/nearest_word.hpp"

#include <algorithm>
#include <cctype>
#include <string_view>

namespace evenclose {
namespace {

std::string folded(std::string_view word) {
    std::string result;
    for (const char letter : word) {
        if (letter != ' ' && letter != '-' && letter != '_' && letter != '.') {
            result += static_cast<char>(std::tolower(static_cast<unsigned char>(letter)));
        }
    }
    return result;
}

bool is_called(const Material& material, const std::string& folded_word) {
    return folded(material.name) == folded_word ||
           std::any_of(material.also.begin(), material.also.end(),
                       [&](const std::string& other) { return folded(other) == folded_word; });
}

} // namespace

const char* name_of(MaterialKind kind) {
    switch (kind) {
    case MaterialKind::timber:
        return "timber";
    case MaterialKind::panel:
        return "panel";
    case MaterialKind::steel:
        return "steel";
    case MaterialKind::aluminium:
        return "aluminium";
    case MaterialKind::other:
        return "other";
    }
    return "";
}

double Material::yield_MPa(double thickness_mm) const {
    for (const YieldStep& step : yield) {
        if (thickness_mm <= step.to_thickness_mm) {
            return step.yield_MPa;
        }
    }
    return yield.empty() ? 0.0 : yield.back().yield_MPa;
}

const Material* find_material(const std::vector<Material>& own, const std::string& word) {
    const std::string wanted = folded(word);
    if (wanted.empty()) {
        return nullptr;
    }
    for (const std::vector<Material>* table : {&own, &material_table()}) {
        const auto found = std::find_if(table->begin(), table->end(),
                                        [&](const Material& material) { return is_called(material, wanted); });
        if (found != table->end()) {
            return &*found;
        }
    }
    return nullptr;
}

std::string nearest_material(const std::vector<Material>& own, const std::string& word) {
    std::vector<std::string_view> words;
    for (const std::vector<Material>* table : {&own, &material_table()}) {
        for (const Material& material : *table) {
            words.emplace_back(material.name);
            words.insert(words.end(), material.also.begin(), material.also.end());
        }
    }
    return std::string{nearest_word(word, words)};
}

} // namespace evenclose
