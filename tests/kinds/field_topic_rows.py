"""What candidates type to the parts of field_topic.toml, each with the mark an examiner gives. Common practice, no source.

Several lines are parted by " // ". "R" after a mark: referred, with that mark for the time being.
"""

from __future__ import annotations

from collections.abc import Mapping

ROWS: Mapping[str, tuple[tuple[str, str], ...]] = {
    "1a": (
        ("D", "1"), ("d", "1"), ("(D)", "1"), ("D)", "1"), ("D.", "1"), ("90°", "1"), ("90", "0R"), ("D 90°", "1"),
        ("ans: D", "1"), ("D because sin 90 = 1", "1"), ("I think its D", "1"), ("B no wait D", "1"), ("option D", "1"),
        ("C", "0"), ("B or D", "0"), ("", "0"), ("?", "0"), ("A", "0"), ("45°", "0"), ("D, not C", "1"),
    ),
    "1b": (
        ("to the left", "1"), ("left", "1"), ("Left.", "1"), ("-x", "1"), ("←", "1"), ("leftwards", "1"), ("force is to the left", "1"),
        ("towards the left of the page", "1"), ("it will be pushed left", "1"), ("using flemings left hand rule the force is left", "1"),
        ("right", "0"), ("up the page", "0"), ("into the page", "0"), ("left or right", "0"), ("perpendicular to the current", "0"),
        ("", "0"), ("dont know", "0"), ("to the west", "1"), ("right, no sorry left", "1"), ("not right so left", "1"),
    ),
    "1c": (
        ("F = BIL = 0.42*65*0.14 = 3.8 N", "3"), ("F=BIL // F=0.42x65x0.14 // F=3.82N", "3"), ("3.8 N", "3"), ("3.822N", "3"),
        ("F = BILsinθ = 0.42 × 65 × 0.14 × sin90 = 3.8N", "3"), ("0.42*65*14e-2 = 3.82 newtons", "3"), ("F = 3.8", "2"),
        ("F = BIL = 0.42*65*14 = 382 N", "2"), ("F=BIL", "1"), ("F = BIL = 0.42 x 65 x 0.14", "2"),
        ("F = BI/L = 0.42*65/0.14 = 195 N", "0"),
        ("F = BQv", "0R"), ("3.9 N", "0"), ("", "0"), ("F = BIL = 0.42*56*0.14 = 3.3 N", "1"), ("F = BIL = 0.42*65*0.14 = 4.2 N", "2"),
        ("F= B I L = .42 * 65 * .14 = 3.8", "2"), ("force = 3.8 N", "3"), ("F = 0.42 T × 65 A × 0.14 m = 3.8 N", "3"),
        ("F=0.42*65*14*10^-2 // =3.8N", "3"),
    ),
    "1d": (
        ("a = F/m = 3.82/0.25 = 15 m/s²", "3"), ("a = 15 ms-2", "3"), ("15.3 m s^-2", "3"),
        ("a = 15 N/kg", "3"), ("a=F/m=3.8/0.25=15", "2"), ("a = m/F = 0.25/3.82 = 0.065", "0"), ("F = ma", "1"),
        ("F = ma, a = m/F = 0.25/3.82 = 0.065 m/s2", "1"), ("a = 3.82 x 0.25 = 0.96 m/s²", "0"), ("", "0"), ("a=15 m/s", "2"),
        ("a = 3.82/0.25", "2"), ("15.288 m/s2", "2"), ("15.3", "2"), ("a = 3.82/0.52 = 7.3 m/s²", "1"), ("15m/s/s", "3"),
        ("accel = force/mass = 3.82/0.25 = 15.3 m/s^2", "3"), ("F=ma so a=F/m a=15", "2"), ("a = 3.82/0.25 = 16 m/s²", "2"),
    ),
    "1e": (
        ("B = F/(IL sinθ)", "1"), ("B=F/ILsinθ", "1"), ("B = F ÷ (I × L × sin θ)", "1"), ("F/(I*L*sin(theta)) = B", "1"),
        ("F = BILsinθ // B = F/(ILsinθ)", "1"), ("B=F/(Ilsinθ)", "1"), ("\\frac{F}{IL\\sin\\theta} = B", "1"), ("B = F/I/L/sinθ", "1"),
        ("B = (F/IL)/sinθ", "1"), ("divide by IL sinθ B = F/(IL sinθ)", "1"), ("B = FIL sinθ", "0"), ("B = IL sinθ/F", "0"),
        ("B = F/IL", "0"), ("B = F - ILsinθ", "0"), ("B = F sinθ/IL", "0"), ("F = BILsinθ", "0"), ("", "0"), ("B", "0"),
        ("B = F/ILcosθ", "0"), ("B = F/BILsinθ", "0"),
    ),
    "1f": (
        ("T", "1"), ("tesla", "1"), ("Tesla", "1"), ("teslas", "1"), ("T (tesla)", "1"), ("N A^-1 m^-1", "1"), ("N/(A m)", "1"),
        ("NA⁻¹m⁻¹", "1"), ("Wb/m²", "1"), ("Wb m^-2", "1"), ("kg s^-2 A^-1", "1"), ("V s m^-2", "1"), ("N/Am", "1"), ("t", "0R"),
        ("telsa", "1"), ("newton per ampere metre", "1"), ("N", "0"), ("Wb", "0"), ("mT", "0"), ("A/m", "0"), ("", "0"), ("B", "0"),
    ),
    "2a": (
        ("The force is always perpendicular to the velocity so it does no work", "2"),
        ("force acts at right angles to motion. no work is done on the ion so its kinetic energy stays the same", "2"),
        ("The magnetic force is always at right angles to the velocity. It does no work so the speed does not change", "2"),
        ("the force is towards the centre of the circle and does no work on the ion", "2"),
        ("magnetic force provides the centripetal force; kinetic energy is constant as no work is done", "2"),
        ("force perpendicular to velocity", "1"),
        ("no work is done on the ion", "1"),
        ("the force does work on the ion so it moves in a circle", "0"),
        ("", "0"),
        ("dont know", "0"),
    ),
    "2c": (
        ("r = mv/Bq = 6.6e-26*9.0e4/(0.35*1.6e-19) = 0.11 m", "3"), ("0.106m", "3"), ("r = 0.106", "2"),
        ("Bqv = mv²/r // r = mv/Bq // r = 6.6x10-26 x 9x10^4 / (0.35 x 1.6x10-19) // r = 0.11m", "3"),
        ("r = Bq/mv = 9.4 m", "0"), ("Bqv=mv2/r, r=mv/Bq", "1"), ("11 cm", "3"), ("", "0"),
        ("mv²/r = Bqv; r = mv/Bq = 6.6e-26*9e4/(0.35*1.6e-19) = 0.16 m", "2"),
        ("r = mv/Bq = 6.6e-26 × 9.0e4 / (0.35 × 1.6e-19) = 0.106 m", "3"),
    ),
    "2d": (
        ("ion: down the page, electron: up the page", "2"), ("down, up", "2"), ("positive ion down // electron up", "2"),
        ("the ion is pushed down the page and the electron up the page", "2"), ("-y and +y", "2"), ("↓ ↑", "2"),
        ("ion down, electron the opposite way", "2"), ("electron: up. ion: down", "2"),
        ("ion towards the bottom of the page; electron opposite", "2"),
        ("down for the ion and up for the electron", "2"), ("ion down", "1"), ("both down", "1"), ("up, down", "0"),
        ("ion up, electron down", "0"), ("both up", "1"), ("", "0"), ("ion into the page, electron out of the page", "0"),
        ("ion: down, electron: down", "1"), ("1. down // 2. up", "2"), ("force on ion is downwards, force on electron is upwards", "2"),
    ),
    "2e": (
        ("False, it changes the direction", "2"), ("false - direction", "2"), ("F, the direction not the speed", "2"),
        ("False. velocity", "2"),
        ("false, it only changes the direction of the charge", "2"), ("It is false because it changes its direction", "2"), ("False", "1"),
        ("F", "1"), ("false, it changes the mass", "1R"), ("True", "0"), ("T", "0"), ("", "0"), ("true, the force speeds it up", "0"),
        ("false: replace speed with direction", "2"), ("FALSE - DIRECTION", "2"), ("incorrect, should be direction", "2"),
        ("not true. A magnetic field changes the direction of a charge that moves across it", "2"), ("wrong, direction", "2"),
        ("untrue, it should say velocity", "2"), ("false, speed", "1"),
    ),
    "2f": (
        ("0.1 T", "1"), ("0.05 T", "1"), ("100 mT", "1"), ("about 0.2T", "1"), ("10^-1 T", "1"), ("50 mT to 200 mT", "1"),
        ("0.5 tesla", "1"),
        ("1 T", "1"), ("0.01T", "1"), ("10 T", "0"), ("50 µT", "0"), ("0.1", "0"), ("0.1 N", "0"), ("", "0"), ("5 T", "0"),
        ("~0.1T", "1"), ("1×10^-1 T", "1"), ("1000 T", "0"), ("0.3 Wb/m^2", "1"), ("no idea", "0"),
    ),
    "3a": (
        ("30, 60, 90", "3"), ("30 mN, 60 mN, 90 mN", "3"), ("30 // 60 // 90", "3"), ("0.50 A: 30 // 1.00 A: 60 // 1.50 A: 90", "3"),
        ("0.50 A: 30 mN; 1.00 A: 60 mN; 1.50 A: 90 mN", "3"), ("0.03 N, 0.06 N, 0.09 N", "3"), ("30 60 90", "3"), ("30, 60", "0R"),
        ("30, 60, 80", "2"), ("0.50 A: 30", "1"), ("", "0"), ("0.03, 0.06, 0.09", "0"), ("30mN // 60mN // 90N", "2"), ("90, 60, 30", "1"),
        ("1.50 A: 90 // 0.50 A: 30 // 1.00 A: 60", "3"), ("F = 30, 60, 90", "3"), ("30.0, 60.0, 90.0", "3"), ("3.0e1, 6.0e1, 9.0e1", "3"),
        ("30 mN, 60 mN, 900 mN", "2"), ("30; 60; 90", "3"),
    ),
    "3b": (
        ("gradient = (56.2-11.2)/(2.5-0.5) = 22.5 mN/A // B = gradient/L = 0.0225/0.250 = 0.090 T", "4"),
        ("m = 22.5 // F=BIL so gradient = BL // B = 22.5e-3/0.25 = 0.09 T", "4"),
        ("points (0.5, 11.2) and (2.5, 56.2) // gradient = 45/2 = 22.5 mN per A // B = 22.5/0.25 = 90 mT", "4"),
        ("gradient = 22.5 mN/A", "2"),
        ("gradient = (2.5-0.5)/(56.2-11.2) = 0.044", "0"),
        ("B = 0.090 T", "4"),
        ("gradient = 22.5 mN/A // B = gradient/L = 22.5/0.25 = 90 T", "3"),
        ("", "0"),
        ("grad = 56.2/2.5 = 22.48 mN/A, B = 22.48e-3/0.25 = 0.0899 T", "4"),
        ("gradient = BL", "1"),
    ),
    "3c": (
        ("11.2/0.5 = 22.4, 22.6/1.0 = 22.6, 33.7/1.5 = 22.5 // constant so proportional", "2"),
        ("F/I = 22.4, 22.6, 22.5, 22.6, 22.5 // the ratio is constant so F is directly proportional to I", "2"),
        ("11.2/0.5=22.4; 45.1/2=22.55. same so directly proportional", "2"),
        ("I/F = 0.0446, 0.0442, 0.0445 constant therefore proportional", "2"),
        ("11.2/0.5 = 22.4, 22.6/1 = 22.6", "1"),
        ("as I goes up F goes up so proportional", "0"),
        ("11.2*0.5 = 5.6, 22.6*1 = 22.6 not constant so not proportional", "0"),
        ("", "0"),
        ("it is proportional", "0"),
    ),
    "3d": (
        ("0.4/56.2 = 0.71%, 0.05/2.5 = 2%, 0.001/0.25 = 0.4% // √(0.71²+2²+0.4²) = 2.2 %", "2"),
        ("%F = 0.71, %I = 2.0, %L = 0.40 // total = sqrt(0.71^2+2^2+0.4^2) = 2.2%", "2"),
        ("2.2 %", "2"), ("2.16%", "2"),
        ("0.71% + 2% + 0.40% = 3.1%", "1"),
        ("0.71%, 2%, 0.4%", "1"),
        ("", "0"), ("7 %", "0"),
        ("0.4/56.2 = 0.0071, 0.05/2.5=0.02, 0.001/0.25 = 0.004 // combined = 0.022 = 2.2%", "2"),
    ),
    "3e": (
        ("the force per unit current per unit length on a wire perpendicular to the field", "1"),
        ("force per unit length per unit current on a wire at right angles to the field", "1"),
        ("1 T is the flux density when a wire of length 1 m carrying 1 A at right angles to the field feels a force of 1 N", "1"),
        ("the strength of the magnetic field", "0"),
        ("the number of field lines", "0"),
        ("", "0"),
        ("how strong a magnet is", "0"),
    ),
}  # fmt: skip

# Own values from one part to the next: typed to 1c, typed to 1d, the marks of both.
CARRIED = (
    ("F = BIL = 3.8 N", "F=ma // 3.8=0.25a // a=15.2 m/s^2", "3", "3"),
    ("F = BIL = 0.42*65*14 = 382 N", "a = F/m = 382/0.25 = 1530 m/s²", "2", "3"),
    ("F = BIL = 0.42*65*0.14 = 4.2 N", "a = 4.2/0.25 = 17 m/s²", "2", "3"),
    ("", "assume F = 5.0 N // a = 5.0/0.25 = 20 m/s²", "0", "3"),
)
