"""A rated base of a whole job: the base against its report, and its pull on what holds it down. It writes nothing itself."""
import functools, math
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
    """Pull on the hardest anchor by a moment of 1 along x and along y, and what a load of 1 takes off it where it lifts: the contact problem,
    one way at a time. And the whole of it, both ways at once."""
    at = pattern({(False, False): "one", (True, False): "two along", (False, True): "two across", (True, True): "four"}[n_x > 1, n_y > 1], a_x, a_y)
    most = lambda P, M_x, M_y: max(contact(P, M_x, M_y, at, c_x, c_y, P > 0)[0])
    pulls = most(0, 1e4, 0), most(0, 0, 1e4)
    kept = (pulls[0] - most(100, 1e4, 0)) / 100, (pulls[1] - most(100, 0, 1e4)) / 100
    # Lifted off the ground the base turns about its anchors, which may be a shorter lever.
    rest = most(-1e6, 0, 0)
    one = [max(pull, most(-1e6, *M) - rest) / 1e4 for pull, M in zip(pulls, ((1e4, 0), (0, 1e4)))]
    return *one, kept, lambda P, M: most(P, *M)


def tip(base, number, apart, P, H):
    """Tension of all anchors or screws, each as hard as the one that has most: the fasteners bring the shear in above the ground, so the base tips
    about x and about y, and presses halfway between middle and edge (common practice). The two are added, and where four hold it down the one at
    the corner that goes up most takes the smaller alone, which is on the safe side."""
    M = [abs(h) * base["fastener_height"] for h in H]
    held = [min(int(n), 2) for n in number]  # of a longer row the outermost count
    one_x, one_y, kept, whole = arms(*held, apart[0] / 2, apart[1] / 2, base["seat_width"] / 4, base["seat_depth"] / 4)
    less = kept[0] if not M[1] else kept[1] if not M[0] else min(kept)
    tips = one_x * M[0], one_y * M[1]
    N = max(0, max(0, -P) / math.prod(held) + sum(tips) + (min(tips) if math.prod(held) == 4 else 0) - less * max(0, P))
    assert whole(P, M) <= 1.002 * N + 1, (P, M, whole(P, M), N)
    return math.prod(number) * N
