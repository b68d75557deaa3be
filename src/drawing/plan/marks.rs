//! The marks of posts, each where there is room for it.

use super::super::geometry::{Extent, Point, crosses, distance, meet};
use super::super::view::THIN;
use super::super::{apart, text_width};
use super::{Detail, MARK, NOTE, Plan, PlanPost, Sheet, grid_lines};

/// As many marks without room are led out of the plan; where there are more, the
/// drawing would be all leaders.
const LED_OUT: usize = 20;

/// How far off a mark may go.
const STEPS: usize = 30;

/// Where a text stands, and the line that leads to its post.
type Place = (Extent, Option<[Point; 2]>);

impl Sheet {
    /// The marks beside their posts: near if there is room, else farther off, with
    /// a line that leads to the post.
    pub(super) fn marks(&mut self, it: &Plan, detail: Detail) -> (bool, usize) {
        // Grid lines do not stand yet, but a text had better leave them alone.
        let grid: Vec<[Point; 2]> = [0, 1]
            .into_iter()
            .flat_map(|axis| grid_lines(&it.posts, axis).into_iter().map(move |line| (axis, line)))
            .map(|(axis, line)| {
                let at = self.place([line, line])[axis];
                if axis == 0 { [[at, -900.0], [at, 9000.0]] } else { [[-900.0, at], [9000.0, at]] }
            })
            .collect();
        if detail == Detail::Dots {
            return (false, self.some_marks(it, &grid));
        }
        let bare = detail == Detail::Marks;
        // Those in the middle first: the others have room outside.
        let middle = [0, 1].map(|axis| (self.frame[axis] + self.frame[2 + axis]) / 2.0);
        let mut posts: Vec<&PlanPost> = it.posts.iter().collect();
        posts.sort_by(|a, b| {
            let [a, b] = [a, b].map(|post| distance(self.place(post.at), middle));
            a.total_cmp(&b)
        });
        let sides = sides();
        let mut without = 0;
        for (at, post) in posts.iter().enumerate() {
            if !self.mark(post, if bare { &[] } else { &post.notes }, &grid, &sides) {
                without += 1;
                // It is drawn again with the marks alone.
                if !bare {
                    return (true, 0);
                }
            }
            if without > LED_OUT {
                return (true, posts.len() - at - 1);
            }
        }
        (without > 0, 0)
    }

    /// Marks beside their posts: first of those that are not met, then of those that stand farthest out,
    /// whom the others are counted from. Of the rest, those are led to whose number is no thicket.
    /// Gives how many are left out.
    fn some_marks(&mut self, it: &Plan, grid: &[[Point; 2]]) -> usize {
        let middle = [0, 1].map(|axis| (self.frame[axis] + self.frame[2 + axis]) / 2.0);
        let mut posts: Vec<&PlanPost> = it.posts.iter().collect();
        let out = |post: &PlanPost| distance(self.place(post.at), middle);
        posts.sort_by(|a, b| a.ok.cmp(&b.ok).then(out(b).total_cmp(&out(a))));
        posts.retain(|post| !self.beside(post));
        if posts.len() > LED_OUT {
            return posts.len();
        }
        let sides = sides();
        posts.retain(|post| match self.best(post, &[], grid, &sides) {
            Some(place) => {
                self.put(post, &[], place);
                false
            }
            None => true,
        });
        posts.len()
    }

    /// Puts a mark right beside its post, where there is room.
    fn beside(&mut self, post: &PlanPost) -> bool {
        let (at, arm) = (self.place(post.at), self.arm(post));
        let size = room(post, &[]);
        let corner = |side: &Point| {
            let off = |axis: usize| match side[axis] {
                out if out > 0.0 => arm[axis] + 2.0,
                out if out < 0.0 => -arm[axis] - 2.0 - size[axis],
                _ => -size[axis] / 2.0,
            };
            [at[0] + off(0), at[1] + off(1)]
        };
        let free = |[x, y]: &Point| {
            let own = [*x, *y, x + size[0], y + size[1]];
            self.texts.iter().chain(&self.symbols).all(|other| apart(&own, other))
        };
        let Some([x, y]) = NEAR.iter().map(corner).find(free) else { return false };
        self.put(post, &[], ([x, y, x + size[0], y + size[1]], None));
        true
    }

    /// Whether it found a place; where all is full, it stands under the whole plan.
    fn mark(&mut self, post: &PlanPost, notes: &[String], grid: &[[Point; 2]], sides: &[Point]) -> bool {
        let best = self.best(post, notes, grid, sides);
        let found = best.is_some();
        let place = best.unwrap_or_else(|| {
            let (all, [wide, tall]) = (self.extent(), room(post, notes));
            let own = [all[0], all[3] + 4.0, all[0] + wide, all[3] + 4.0 + tall];
            (own, Some([self.place(post.at), [own[0], own[1]]]))
        });
        self.put(post, notes, place);
        found
    }

    /// The place of a mark and its notes that costs least, if there is any.
    fn best(&self, post: &PlanPost, notes: &[String], grid: &[[Point; 2]], sides: &[Point]) -> Option<Place> {
        let (at, half) = (self.place(post.at), self.half(post));
        let [wide, tall] = room(post, notes);
        let boxed = |step: usize, side: Point| {
            let gap = 4.0 + 9.0 * step as f64;
            let corner = |axis: usize, own: f64| match side[axis] {
                out if out > 0.0 => at[axis] + half[axis] + gap * out,
                out if out < 0.0 => at[axis] - half[axis] + gap * out - own,
                _ => at[axis] - own / 2.0,
            };
            let corner = [corner(0, wide), corner(1, tall)];
            [corner[0], corner[1], corner[0] + wide, corner[1] + tall]
        };
        let mut best: (f64, Option<Place>) = (f64::INFINITY, None);
        for step in 0..STEPS {
            // A place is never better than how far off it is.
            if 10.0 * step as f64 >= best.0 {
                break;
            }
            for (rank, side) in sides.iter().enumerate() {
                let own = boxed(step, *side);
                let leader = (step > 0).then(|| [at, [at[0].clamp(own[0], own[2]), at[1].clamp(own[1], own[3])]]);
                let price = 10.0 * step as f64 + 0.2 * rank as f64 + self.price(&own, leader, grid);
                if price < best.0 {
                    best = (price, Some((own, leader)));
                }
            }
        }
        best.1
    }

    /// Draws a mark and its notes, and the line that leads from the post to them.
    fn put(&mut self, post: &PlanPost, notes: &[String], (own, leader): Place) {
        if let Some([from, to]) = leader {
            self.line(from, to, THIN);
            self.leaders.push([from, to]);
        }
        let mut y = own[1] + MARK;
        self.text([own[0], y], "start", MARK, true, &post.mark);
        y += 0.25 * MARK;
        for note in notes {
            y += NOTE + 0.5;
            self.text([own[0], y], "start", NOTE, false, note);
            y += 0.25 * NOTE;
        }
    }

    /// What it costs to put a text there: endless on another text or a post, some
    /// on every line that it interrupts.
    fn price(&self, own: &Extent, leader: Option<[Point; 2]>, grid: &[[Point; 2]]) -> f64 {
        let free = |own: &Extent| self.texts.iter().chain(&self.symbols).all(|other| apart(own, other));
        let run_through = |line: &[Point; 2]| crosses(*line, own);
        let led = |ends: [Point; 2]| {
            // A leader begins in its own post.
            let start =
                self.symbols.iter().position(|other| !apart(&[ends[0][0], ends[0][1], ends[0][0], ends[0][1]], other));
            let posts = self.symbols.iter().enumerate().filter(|(at, _)| Some(*at) != start);
            self.texts.iter().chain(posts.map(|(_, other)| other)).any(|other| crosses(ends, other))
        };
        if !free(own) || self.leaders.iter().any(run_through) || leader.is_some_and(led) {
            return f64::INFINITY;
        }
        let lines = self.lines.iter().filter(|line| crosses([line.from, line.to], own)).count();
        let met = leader.map_or(0, |ends| self.leaders.iter().filter(|other| meet(ends, **other)).count());
        let outside = usize::from(own[0] < -70.0 || own[1] < -50.0);
        6.0 * lines as f64
            + 6.0 * grid.iter().filter(|line| run_through(line)).count() as f64
            + 30.0 * met as f64
            + 40.0 * outside as f64
    }
}

/// How wide and high a mark is with the notes under it.
fn room(post: &PlanPost, notes: &[String]) -> Point {
    let mark = text_width(&post.mark, MARK, true);
    let wide = notes.iter().map(|note| text_width(note, NOTE, false)).fold(mark, f64::max);
    let many = notes.len() as f64;
    [wide, 1.25 * (MARK + NOTE * many) + 0.5 * many]
}

/// Ways in which a mark stands beside its post.
const NEAR: [Point; 4] = [[0.0, -1.0], [0.0, 1.0], [-1.0, 0.0], [1.0, 0.0]];

/// Ways in which the mark of a post may stand off, corners first: out to 1 along
/// the greater of both.
fn sides() -> Vec<Point> {
    let corners =
        [[1.0, -1.0], [-1.0, -1.0], [1.0, 1.0], [-1.0, 1.0], [0.0, -1.0], [0.0, 1.0], [1.0, 0.0], [-1.0, 0.0]];
    let parts = [0.2, 0.5, 0.75].into_iter().flat_map(|part| [[part, 1.0], [1.0, part]]);
    let ways = [[1.0, -1.0], [-1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]];
    let between = parts.flat_map(|part| ways.map(|way| [part[0] * way[0], part[1] * way[1]]));
    corners.into_iter().chain(between).collect()
}
