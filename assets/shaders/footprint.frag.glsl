in float above_mm;
uniform float strength; // less for bodies that are seen through
out vec4 shown;
void main() {
    float above = max(above_mm, 0.0);
    shown = vec4(strength * vec2(exp2(-above / 25.0), exp2(-above / 350.0)), 0.0, 1.0);
}
