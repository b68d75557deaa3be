"""A rated base of a whole job: the base against its report, and its pull on what holds it down. It writes nothing itself."""
import functools
from anchors import contact, pattern


def report(take, base, post, G, C_D, P, H, wet, wet_fast, fixed, d_fixed):
    """The published values: lowered for longer loads and for wet wood, never raised; `wet` for what bears, `wet_fast` for what fasteners hold.
    Returns the ratios of download, uplift and shears, and what the values are lowered by."""
    b, d = post["width"], post["depth"]
    take("rated-base", "density of the wood", base["G_report"] / G)
    take("rated-base", "the post is not too small for the seat", base["seat_min"] / min(b, d))
    take("rated-base", "the post is not too large for the seat", max(b, d) / base["seat_max"])
    take("rated-base", "every fastener of the schedule is installed", base["fasteners_report"] / post["fasteners"])
    take("rated-base", "number of anchors", base["anchors_report"] / fixed)
    take("rated-base", "diameter of the anchors", base["anchor_d_report"] / d_fixed)
    less = min(1, C_D / base["C_D_up"]) * wet_fast
    parts = [max(0, -P) / (base["uplift"] * less), *(abs(h) / (base[f"lateral_{w}"] * less) for h, w in zip(H, "xy"))]
    down = max(0, P) / (base["download"] * min(1, C_D / base["C_D_down"]) * wet)
    take("rated-base", "download on the base", down)
    take("rated-base", "uplift on the base", parts[0])
    take("rated-base", "shear on the base along x", parts[1])
    take("rated-base", "shear on the base along y", parts[2])
    take("rated-base", "uplift and shear together", sum(parts))
    return down, *parts, less


@functools.lru_cache(maxsize=None)
def arms(n_x, n_y, a_x, a_y, c_x, c_y):
    """Pull on the hardest anchor by a moment of 1 along x and along y, and what a load of 1 takes off it where it lifts; by the contact problem."""
    name = {(False, False): "one", (True, False): "two along", (False, True): "two across", (True, True): "four"}[n_x > 1, n_y > 1]
    at = pattern(name, a_x, a_y)
    most = lambda P, M_x, M_y: max(contact(P, M_x, M_y, at, c_x, c_y, P > 0)[0])
    pulls = most(0, 1e4, 0), most(0, 0, 1e4)
    return pulls[0] / 1e4, pulls[1] / 1e4, (pulls[0] - most(100, 1e4, 0)) / 100, (pulls[1] - most(100, 0, 1e4)) / 100, lambda P, M: most(P, *M)


def tip(base, number, apart, P, H):
    """Tension of all anchors or screws, each as hard as the one that has most: the fasteners bring the shear in above the ground, so the base tips
    about x and about y, and presses halfway between middle and edge (common practice). The two are added, which is on the safe side."""
    M = [abs(h) * base["fastener_height"] for h in H]
    # Outermost screws of a longer row count alone.
    held = [min(int(n), 2) for n in number]
    one_x, one_y, kept_x, kept_y, both = arms(*held, apart[0] / 2, apart[1] / 2, base["seat_width"] / 4, base["seat_depth"] / 4)
    kept = kept_x if not M[1] else kept_y if not M[0] else min(kept_x, kept_y)
    N = max(0, max(0, -P) / (held[0] * held[1]) + one_x * M[0] + one_y * M[1] - kept * max(0, P))
    return number[0] * number[1] * N
