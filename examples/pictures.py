"""Draw the pictures of README: the one page as SVG, the sheet as PNG.

Run: python examples/pictures.py (needs the extra 'sheet' and a Chromium). The digest of what they
are drawn from stands in pictures.sha256, by which a test sees that they are out of date.
"""

from __future__ import annotations

import hashlib
import shutil
import subprocess
import tempfile
from html import escape
from pathlib import Path

from feedstock import Job, appraise, load_tables, text

HERE = Path(__file__).parent
HEAP = HERE / "shed_clearout.yaml"
PAGE, SHEET, DIGEST = (HERE / name for name in ("page.svg", "sheet.png", "pictures.sha256"))
LINE, WIDTH = 16, 660


def drawn_from() -> tuple[str, str]:
    """The one page and the sheet of the example heap."""
    job = Job.read(HEAP)
    result = appraise(job.heap, job.burn, load_tables(plugins=False))
    return text.page(result), text.sheet(result)


def digest() -> str:
    """What the pictures would be drawn from now, as a digest."""
    return hashlib.sha256("\0".join(drawn_from()).encode()).hexdigest()


def page_picture(page: str) -> str:
    """Lines of text as a picture."""
    lines = page.rstrip("\n").split("\n")
    height = LINE * len(lines) + 24
    rows = "\n".join(
        f'<text x="14" y="{LINE * n + 26}" xml:space="preserve">{escape(line)}</text>'
        for n, line in enumerate(lines)
        if line
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {height}" role="img"'
        ' font-family="DejaVu Sans Mono, Menlo, Consolas, monospace" font-size="13">\n'
        f"<title>{escape(lines[0])}</title>\n"
        f'<rect width="{WIDTH}" height="{height}" fill="#fff" stroke="#777"/>\n{rows}\n</svg>\n'
    )


def main() -> None:
    """Draw both and write what they were drawn from."""
    page, sheet = drawn_from()
    PAGE.write_text(page_picture(page), encoding="utf-8")
    found = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))))
    with tempfile.TemporaryDirectory() as folder:
        source = Path(folder) / "sheet.html"
        source.write_text(sheet, encoding="utf-8")
        subprocess.run(
            [
                found,
                "--headless",
                "--no-sandbox",
                "--disable-gpu",
                "--hide-scrollbars",
                "--window-size=760,1900",
                f"--screenshot={SHEET}",
                source.as_uri(),
            ],
            check=True,
            capture_output=True,
        )
    DIGEST.write_text(f"{digest()}\n", encoding="ascii")


if __name__ == "__main__":
    main()
