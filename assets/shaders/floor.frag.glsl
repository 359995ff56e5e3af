// A quiet grid: hairlines each 100 mm, stronger ones each 500 mm, fading out round the press; what stands on it or hangs
// low above it darkens it.
in vec2 on_floor;
in vec2 unit;
uniform vec4 line_colour;
uniform vec4 shadow_colour;
uniform float line_px;
uniform sampler2D shadow; // r: contact, g: wide
out vec4 shown;

// How much of a pixel the lines each `pitch` mm cover.
float grid(float pitch, float width_px, vec2 mm_a_pixel) {
    vec2 away = abs(fract(on_floor / pitch - 0.5) - 0.5) * pitch;
    vec2 line = clamp(0.5 * width_px + 0.5 - away / mm_a_pixel, 0.0, 1.0) * min(width_px, 1.0);
    // Too dense to be told apart: fade to nothing rather than to grey noise.
    line *= 1.0 - smoothstep(0.08, 0.25, mm_a_pixel / pitch);
    return max(line.x, line.y);
}

void main() {
    vec2 mm_a_pixel = max(fwidth(on_floor), vec2(1e-6));
    float fade = 1.0 - smoothstep(0.25, 1.0, length(unit));
    float lines = max(0.45 * grid(100.0, line_px, mm_a_pixel), grid(500.0, 1.3 * line_px, mm_a_pixel));
    vec2 dark = texture(shadow, unit * 0.5 + 0.5).rg;
    float shade = shadow_colour.a * (1.0 - (1.0 - 0.75 * dark.r) * (1.0 - 0.55 * dark.g));
    float line_alpha = line_colour.a * lines * fade;
    float alpha = line_alpha + shade * (1.0 - line_alpha);
    shown = vec4(alpha > 0.0 ? mix(shadow_colour.rgb, line_colour.rgb, line_alpha / alpha) : vec3(0.0), alpha);
}
