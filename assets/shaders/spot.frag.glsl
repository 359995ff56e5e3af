// A disc with a light ring inside a dark one: told from any ground, light or dark.
in vec4 colour;
in vec2 from_middle_px;
flat in float radius_px;
out vec4 shown;
void main() {
    float r = length(from_middle_px);
    float disc = clamp(radius_px - 2.0 + 0.5 - r, 0.0, 1.0);
    float ring = clamp(radius_px + 0.5 - r, 0.0, 1.0);
    float rim = clamp(radius_px + 1.25 + 0.5 - r, 0.0, 1.0);
    vec3 tone = mix(vec3(0.08, 0.09, 0.11), vec3(1.0), ring);
    shown = vec4(mix(tone, colour.rgb, disc), rim * colour.a);
}
