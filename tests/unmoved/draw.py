"""Draws one job at random: its table job.toml and its CSV files as dictionaries of text.

Sizes are drawn so that most things fit together and most limits are met, and now and then (`odd`) so that they do
not. Whether the program takes the job is for make.py to find out.
"""

from math import gcd

SPECIES = ["Douglas Fir-Larch", "Hem-Fir", "Southern Pine", "Spruce-Pine-Fir", "Eastern White Pine", "Western Cedars",
           "Redwood", "Red Oak", "White Oak", "Alaska Cedar"]
GRADES = ["Select Structural", "No.1", "No.2"]
TIMBER_GRADES = {"Douglas Fir-Larch": ["Dense Select Structural", "Dense No.1"],
                 "Southern Pine": ["Dense Select Structural", "No.1 Dense", "No.2 Dense"],
                 "Redwood": ["No.1 open grain", "No.2 open grain"]}
NOMINAL = ["4x4", "4x6", "4x8", "5x5", "6x6", "6x8", "6x10", "6x12", "8x8", "8x10", "8x12", "10x10", "10x12", "12x12"]
DRESSED = {4: 3.5, 5: 4.5, 6: 5.5, 8: 7.5, 10: 9.5, 12: 11.5}


def inches(value):
    """A length as a shop writes it, to 1/32 in."""
    whole, rest = divmod(round(value * 32), 32)
    if not rest:
        return f"{whole} in"
    by = gcd(rest, 32)
    return f"{whole} {rest // by}/{32 // by} in" if whole else f"{rest // by}/{32 // by} in"


class Draw:
    def __init__(self, rng, theme):
        self.rng, self.theme = rng, theme
        self.of, self.between = rng.choice, rng.uniform

    def odd(self, chance=0.05):
        return self.rng.random() < chance

    def length(self, low, high, step):
        return low + step * self.rng.randint(0, round((high - low) / step))

    # -- The post

    def timber(self):
        species = self.of(SPECIES)
        row = {"species": species, "grade": self.of(GRADES)}
        if species in TIMBER_GRADES and self.odd(0.5):
            row["grade"] = self.of(TIMBER_GRADES[species])
        if self.theme["size"] == "nominal":
            nominal = self.of(NOMINAL)
            b, d = (DRESSED[int(part)] for part in nominal.split("x"))
            row["nominal"] = nominal
        elif self.theme["size"] == "square":
            b = d = self.of([3.5, 5.5, 5.5, 7.5, 7.5, 8, 9.5, 11.5, 13.5])
        else:
            b, d = sorted(self.rng.sample([3.5, 4.5, 5.5, 5.5, 7.25, 7.5, 9.5, 11.5, 13.5], 2))
            if b == 3.5:
                d = self.of([5.5, 7.25])
            if self.theme["size"] == "wide":
                b, d = d, b
        if min(b, d) < 4.5:
            row["grade"] = self.of(GRADES)
            row["species"] = self.of(SPECIES[:-1])
        if "nominal" not in row or self.theme["loads"] == "roof":
            row["width"], row["depth"] = inches(b), inches(d)
            if self.odd(0.1) and "nominal" not in row:
                row["width"] = f"{b * 25.4:.1f} mm"
        row["height"] = self.of([f"{self.length(7, 13, 0.5)} ft", f"{self.rng.randint(7, 12)} ft {self.rng.randint(1, 11)} in"])
        return row, b, d

    # -- Bases

    def made(self, b, d, side):
        along = self.of("xy")
        across, run = (d, b) if along == "x" else (b, d)
        row = {"kind": "made", "blade_along": along, "steel": self.of(["A36", "A36", "A572 Gr 50", "A588"]), "F_e_plate": "87 ksi",
               "finish": self.of(["hot-dip galvanized", "hot-dip galvanized", "stainless", "painted", "bare"])}
        blade = self.of([3 / 16, 1 / 4, 5 / 16, 3 / 8] if side else [1 / 4, 5 / 16, 3 / 8, 1 / 2])
        wide = run + 0.5 if self.odd(0.04) else min(run, max(2.25, self.length(0.5 * run, 0.9 * run, 0.25)))
        row["blade"], row["blade_width"] = inches(blade), inches(wide)
        rows = 2 if wide >= 3.5 and self.odd(0.4) else 1
        n = self.of([1, 1, 2, 2, 3])
        if side:
            row["connection"] = "side plates"
            row["screw"] = self.theme["screw"]
            if row["screw"] == "lag":
                D = self.of([1 / 4, 5 / 16, 3 / 8, 1 / 2, 5 / 8])
                row["screw_d"] = inches(D)
            else:
                D = self.of([0.19, 0.216, 0.242, 0.268, 0.32, 0.372])
                row["screw_d"] = f"{D} in"
            row["screw_length"] = inches(min(self.of([2, 2.5, 3, 3.5, 4]), across / 2 + (0.75 if self.odd() else 0)))
            row["pin_hole"] = f"{D + (0.125 if self.odd() else 1 / 16):.4f} in"
        else:
            D = self.of([3 / 8, 7 / 16, 1 / 2, 1 / 2, 5 / 8, 3 / 4])
            row["slot"] = inches(blade + (3 / 16 if self.odd(0.06) else -1 / 16 if self.odd(0.04) else 1 / 16))
            row["pin_diameter"], row["pin_hole"] = inches(D), inches(D + (1 / 8 if self.odd() else 1 / 16))
            row["pin_length"] = inches(across + (0.5 if self.odd(0.06) else -self.of([0, 0.5, 1])))
            row["pin_steel"] = self.of(["A36", "A307 Gr A", "F1554 Gr 55"])
            row["F_yb"] = "45 ksi"
        gap = max(3 * D, min(wide - 2.5 * D, 5)) if rows == 2 else 0
        row |= {"pins_in_row": str(n), "pin_rows": str(rows), "pin_end": inches(D * self.of([3, 5, 7, 8]) + 0.5),
                "pin_spacing": inches(self.of([3, 4, 5]) * D + 0.25 if n > 1 else 0), "row_spacing": inches(gap),
                "blade_top": inches(max(1.25, 2 * D))}
        shape = self.theme["leg"]
        seat_t, foot_t = self.of([3 / 8, 1 / 2, 5 / 8]), self.of([3 / 8, 1 / 2, 5 / 8, 3 / 4])
        if shape == "bar":
            leg, leg_t, leg_steel = self.of([2, 2.5, 3, 4]), self.of([3 / 8, 1 / 2, 3 / 4, 1]), self.of(["A36", "A588", "A529 Gr 50"])
        elif shape == "round":
            leg, leg_t, leg_steel = self.of([1, 1.25, 1.5, 2]), 0, self.of(["A36", "A572 Gr 50"])
        else:
            (leg, leg_t), leg_steel = self.of([(1.9, 0.145), (2.375, 0.154), (2.875, 0.203), (3.5, 0.216)]), "A53 Gr B"
        row |= {"leg_shape": shape, "leg": f"{leg} in", "leg_steel": leg_steel, "seat_thick": inches(seat_t),
                "foot_thick": inches(foot_t), "weld": inches(self.of([3 / 16, 1 / 4, 5 / 16]))}
        if leg_t:
            row["leg_thick"] = f"{leg_t} in"
        row["standoff"] = inches(seat_t + foot_t + self.of([0.25, 0.5, 1, 1.5, 2.5]))
        seat = {"x": b, "y": d}
        for axis, key in (("x", "seat_width"), ("y", "seat_depth")):
            least = max(wide, leg) if axis == along and not self.odd(0.03) else 2
            row[key] = inches(max(least, seat[axis] - self.of([0, 0, 0.5, 1])))
        return row, leg

    def rated(self, b, d):
        least, most = min(b, d), max(b, d)
        scale = b * d / 56 * self.between(0.6, 1.4)
        pounds = lambda value: self.of([f"{round(value * scale, -1):.0f} lbf", f"{value * scale / 1000:.2f} kip"])
        row = {"kind": "rated", "standoff": self.of(["1 in", "1 in", "2 in", "1/2 in", "25 mm"]),
               "finish": self.of(["hot-dip galvanized", "as the report allows", "stainless", "painted"]),
               "seat_width": inches(b), "seat_depth": inches(d), "download": pounds(15000), "uplift": pounds(4250),
               "lateral_x": pounds(2150), "lateral_y": pounds(1900), "C_D_down": self.of(["1.0", "1.25", "1.6", "1.15"]),
               "C_D_up": self.of(["1.6", "1.6", "1.33"]), "G_report": self.of(["0.5", "0.42", "0.36"]),
               "wet_factor": self.of(["1", "0.7", "0.85"]), "seat_min": inches(least - 0.25 + (0.5 if self.odd() else 0)),
               "seat_max": inches(most + 0.25 - (0.5 if self.odd() else 0)), "fasteners_report": self.of(["6", "8", "12"]),
               "report": "demo report 1", "report_date": "2025-03-01",
               "report_expires": "2026-03-01" if self.odd() else "2028-03-01"}
        if self.theme["kind"] == "moment":
            row |= {"moment_rated": "yes", "moment_x": f"{self.rng.randint(8, 60) * 100} lbf ft",
                    "moment_y": f"{self.rng.randint(8, 60) * 100} lbf ft"}
        return row

    def fix_to_concrete(self, row, b, d, leg):
        """The anchors of a base and its plate on the concrete; gives the plate and the spacings."""
        nx, ny = self.theme["anchors"]
        s = [self.length(3, 6, 0.5) if n > 1 else 0 for n in (nx, ny)]
        row |= {"anchors_x": str(nx), "anchors_y": str(ny), "anchor_s_x": inches(s[0]), "anchor_s_y": inches(s[1])}
        if self.odd(0.35):
            row |= {"gap": "grout", "grout_thick": self.of(["1 in", "3/4 in"])}
        if row["kind"] == "rated":
            row |= {"anchors_report": str(max(1, nx * ny + self.of([0, 0, 0, -1, 1]))), "anchor_d_report": self.of(["1/2 in", "5/8 in"])}
            return [b, d], s
        foot = [max(gap + self.of([2, 2.5, 3]), leg + self.of([2.5, 4])) for gap in s]
        row |= {"foot_width": inches(foot[0]), "foot_depth": inches(foot[1])}
        return foot, s

    def fix_to_wood(self, row, b, d, leg):
        lag = self.theme["floor_screw"] == "lag"
        D = self.of([1 / 4, 5 / 16, 3 / 8, 1 / 2]) if lag else self.of([0.19, 0.242, 0.268, 0.32])
        long, plate = self.of([3, 3.5, 4, 5]), self.of([3 / 16, 1 / 4, 3 / 8])
        nx, ny = self.of([(2, 2), (3, 2), (2, 3), (2, 1), (1, 2), (1, 1)]) if row["kind"] == "made" else self.of([(2, 2), (3, 2), (2, 1)])
        s = [self.length(max(1.25, 3 * D), max(1.5, 5 * D), 0.25) if n > 1 else 0 for n in (nx, ny)]
        row |= {"floor_screw": self.theme["floor_screw"], "floor_screw_d": f"{D} in", "floor_screw_length": inches(long),
                "floor_screws_along": str(nx), "floor_screws_across": str(ny), "floor_spacing_along": inches(s[0]),
                "floor_spacing_across": inches(s[1]), "floor_plate": inches(plate), "floor_plate_F_e": "61.85 ksi"}
        if self.odd(0.4):
            row["floor_screw_T"] = f"{self.of([200, 600, 1500])} lbf"
        if row["kind"] == "rated":
            row |= {"anchors_report": str(max(1, nx * ny - self.of([0, 0, 1, -1]))), "anchor_d_report": f"{D} in"}
            out = [b, d]
        else:
            out = [max((n - 1) * gap + 2, leg + self.of([1, 2])) for n, gap in ((nx, s[0]), (ny, s[1]))]
            row |= {"foot_width": inches(out[0]), "foot_depth": inches(out[1])}
        along = self.of("xy")
        thick = self.of([3.5, 5.5, 7.5, 9.5])
        wide = self.of([5.5, 7.25]) if thick == 3.5 else self.of([5.5, 7.5, 9.5, 11.5])
        rows_run = (ny - 1) * s[1] if along == "x" else (nx - 1) * s[0]
        floor = {"floor_species": self.of(SPECIES[:-1]), "floor_grade": self.of(GRADES), "floor_thick": inches(thick),
                 "floor_width": inches(wide), "floor_along": along, "floor_end": inches(self.of([2, 4, 8, 24])),
                 "floor_edge": inches(max(1, (wide - rows_run) / 2 + (0.5 if self.odd() else 0)))}
        return floor

    # -- Concrete

    def anchor(self):
        d_a = self.of([1 / 2, 1 / 2, 5 / 8, 3 / 4, 1])
        row = {"anchor_type": self.theme["anchor"], "d_a": inches(d_a)}
        if row["anchor_type"] == "cast":
            row |= {"h_ef": inches(16 if self.theme["deep"] else self.of([4, 6, 8, 10, 12, 16])), "rod_grade": "F1554 Grade " + self.of(["36", "36", "55", "105"]),
                    "head": self.theme["head"]}
            if row["head"] == "hook":
                row["e_h"] = inches(self.of([3, 4, 4.5]) * d_a)
            if self.odd(0.3):
                row["torqued"] = "yes"
            return row
        h_ef = self.of([2.5, 3, 4.25])
        row |= {"h_ef": inches(h_ef), "k_c": self.of(["17", "24"]), "category": self.of(["category 1", "category 2", "category 3"]),
                "pullout": self.of(["given", "does not govern"]), "N_sa": f"{round(60000 * d_a ** 2, -2):.0f} lbf",
                "V_sa": f"{round(28000 * d_a ** 2, -2):.0f} lbf", "ductile": self.of(["yes", "no"]),
                "c_ac": inches(1.5 * h_ef), "s_min": "3 in", "c_min": "1 3/4 in", "h_min": inches(h_ef + 2.5),
                "seismic_ok": self.of(["yes", "yes", "no"]), "hole_d": inches(d_a), "hole_deep": inches(h_ef + 1),
                "torque": "60 lbf ft", "report": "demo report 3", "report_date": "2025-06-01", "report_expires": "2027-06-01"}
        if row["pullout"] == "given":
            row |= {"N_p": f"{self.rng.randint(20, 60) * 100} lbf", "n_p": self.of(["0.5", "0.35", "0"])}
        return row

    def concrete(self, plate, top, screws):
        """A pier or pad that the plate stands on; `top` is its height above the earth, in inches."""
        row = {"foundation_type": self.theme["foundation"], "f_c'": f"{self.of([2500, 3000, 3000, 4000, 5000])} psi"}
        shape = self.theme["shape"]
        least = max(plate) / (0.886 if shape == "round" else 1)
        pier = max(self.of([10, 12, 16, 18, 20, 24]), -(-least // 1) + 1)
        row |= {"pier_shape": shape, "pier_b": inches(pier), "sides": self.of(["earth", "weather", "indoors"])}
        for key, value, chance in (("cracked", "no", 0.2), ("supplementary", "yes", 0.3), ("pier_cast", "formed", 0.4)):
            if self.odd(chance):
                row[key] = value
        bars = pier >= 10 and self.odd(0.6)
        if bars:
            row |= {"bar": self.of(["No. 3", "No. 4", "No. 5"]), "n_bars": self.of(["4", "4", "6"])}
        side = 48 if self.theme["deep"] else max(self.length(20, 48, 2), pier + 4)
        pad = {"pad_x": inches(side), "pad_y": inches(side + self.of([0, 0, 6, -2])), "pad_t": inches(self.of([8, 10, 12, 16]))}
        if row["foundation_type"] == "pier":
            row["found_depth"] = inches(self.of([24, 36, 48, 57, 72]))
            if self.theme["pad"]:
                row |= {"pad": "yes"} | pad
            if self.odd(0.3):
                row["slab"] = "yes"
        else:
            thick = 30 if self.theme["deep"] else self.of([8, 10, 12, 16, 24, 30])
            over = self.of([10, 16, 24, 36]) if self.theme["pad"] else 0
            row |= pad | {"pad_t": inches(thick)}
            if over:
                row["pier_over"] = inches(over)
            row["found_depth"] = inches(max(6, thick + over - top))
            if self.odd(0.4):
                row["side_bears"] = "yes"
        if self.theme["by_bars"] and bars and not screws:
            row |= {"tension_by": "bars", "bar_side": inches(self.of([2, 3, 4])), "bar_off": inches(self.of([0, 2, 4])),
                    "bar_top": inches(self.of([2, 3])), "bar_end": self.of(["straight", "hook"]), "bar_long": inches(self.of([24, 36, 48]))}
        return row
