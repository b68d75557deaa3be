"""The formulas of a package set by LaTeX, beside the time that they take here.

Not a part of any test. LaTeX comes from the distribution's packages, by hand:
`apt-get install texlive-latex-base`. Then

    FORMULAS=/tmp cargo bench --bench package
    python3 benches/latex.py /tmp/orchard-pergola.json

prints the seconds of one pass of `pdflatex` (a document with references takes two
or three), those of the embedded typesetter for the same formulas, tagged and with
words for a screen reader, and the ratio of the two.
"""

import json
import pathlib
import re
import statistics
import subprocess
import sys
import tempfile
import time

SIGNS = {
    "times": r"\times ", "dot.op": r"\cdot ", "lt.eq": r"\le ", "gt.eq": r"\ge ", "eq.not": r"\ne ", "thin": r"\,",
    "slash": "/", "bot": r"\perp ", "parallel": r"\parallel ", "prime": "'", "comma": "{,}",
}
GREEK = dict(zip("αβγδεηθκλμνξπρστφψωΓΔΘΛΣΦΨΩ", (
    "alpha beta gamma delta epsilon eta theta kappa lambda mu nu xi pi rho sigma tau phi psi omega "
    "Gamma Delta Theta Lambda Sigma Phi Psi Omega").split()))
RAISED = {"²": "^{2}", "³": "^{3}", "⁴": "^{4}", "°": r"^{\circ}", "·": r"{\cdot}", "−": "-", "′": "'", "–": "-"}
NAMED = {"sin", "cos", "tan", "arcsin", "arccos", "arctan", "exp", "ln"}
TOKEN = re.compile(r'\s*("(?:[^"\\]|\\.)*"|, [tb]:|[A-Za-z][A-Za-z.]*|[Α-ω]|.)')


class Reader:
    """Reads the math source that the program writes, and no other."""

    def __init__(self, text):
        self.tokens = TOKEN.findall(text)
        self.at = 0

    def peek(self):
        return self.tokens[self.at] if self.at < len(self.tokens) else None

    def next(self):
        self.at += 1
        return self.tokens[self.at - 1]

    def want(self, token):
        found = self.next()
        assert found == token, (found, token, self.tokens)

    def run(self, *ends):
        parts = []
        while self.peek() is not None and self.peek() not in ends:
            parts.append(self.item())
        return "".join(parts)

    def item(self):
        token = self.next()
        if token.startswith('"'):
            words = re.sub(r"([%&#_$])", r"\\\1", token[1:-1]).replace(" ", r"\ ")
            return r"\mathrm{" + "".join(RAISED.get(c, c) for c in words) + "}"
        if self.peek() == "(" and token in {"it", "upright", "op", "class", "attach", "frac", "sqrt", "abs"}:
            self.want("(")
            if token == "class":
                self.next(), self.want(",")
            if token == "attach":
                text = "{" + self.run(", t:", ", b:", ")") + "}"
                while self.peek() != ")":
                    sign = "^" if self.next() == ", t:" else "_"
                    text += sign + "{" + self.run(", t:", ", b:", ")") + "}"
                self.want(")")
                return text
            if token == "frac":
                above = self.run(",")
                self.want(",")
                below = self.run(")")
                self.want(")")
                return r"\frac{%s}{%s}" % (above, below)
            inner = self.run(")")
            self.want(")")
            forms = {"sqrt": r"\sqrt{%s}", "abs": r"\left|%s\right|", "op": r"\mathop{%s}"}
            return forms.get(token, "{%s}") % inner
        if token == "(":
            inner = self.run(")")
            self.want(")")
            return r"\left(%s\right)" % inner
        if token in SIGNS:
            return SIGNS[token]
        if token in GREEK:
            return "\\" + GREEK[token] + " "
        if token in NAMED:
            return "\\" + token + " "
        return token


def main(path):
    data = json.loads(pathlib.Path(path).read_text())
    lines = [r"\noindent$\displaystyle " + Reader(it["src"]).run() + r"$\par\vspace{6pt}" for it in data["formulas"]]
    text = "\n".join([
        r"\documentclass[10pt,letterpaper]{article}", r"\textwidth504pt\oddsidemargin-18pt", r"\textheight650pt\topmargin-36pt",
        r"\begin{document}", *lines, r"\end{document}"])
    seconds = []
    with tempfile.TemporaryDirectory() as folder:
        (pathlib.Path(folder) / "plain.tex").write_text(text)
        for _ in range(3):
            start = time.perf_counter()
            done = subprocess.run(["pdflatex", "-interaction=nonstopmode", "plain.tex"], cwd=folder, capture_output=True)
            seconds.append(time.perf_counter() - start)
            assert done.returncode == 0, done.stdout.decode(errors="replace")[-2000:]
        pages = int(re.search(rb"\((\d+) pages?", done.stdout.replace(b"\n", b""))[1])
    one = statistics.median(seconds)
    here = data["seconds"]
    print(f"{len(lines)} formulas: one pass of LaTeX {one:.2f} s, {pages} pages; here {here:.2f} s, {data['pages']} pages;"
          f" LaTeX / here {one / here:.1f}")


if __name__ == "__main__":
    main(sys.argv[1])
