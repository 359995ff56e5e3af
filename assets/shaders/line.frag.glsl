in vec4 colour;
in float across_px;
flat in float half_width_px;
out vec4 shown;
void main() {
    shown = vec4(colour.rgb, colour.a * clamp(half_width_px + 0.5 - abs(across_px), 0.0, 1.0));
}
