"""Appraise a heap from another program: in, out, why, and as JSON.

Run: python examples/in_an_app.py
"""

from pathlib import Path

from feedstock import Burn, FeedstockError, Heap, Lot, Verdict, appraise, load_tables


def clean_and_dry(path: Path) -> list[str]:
    """Names of the lots of a heap file that may go in now."""
    result = appraise(Heap.read(path))
    return [lot.name for lot in result.lots if lot.verdict is Verdict.READY]


def told(path: Path) -> list[str]:
    """What is wrong with a heap file, one message a problem, each with file, line, field and
    remedy.
    """
    try:
        Heap.read(path)
    except FeedstockError as why:
        return [str(problem) for problem in why.problems]
    return []


def main() -> None:
    tables = load_tables()
    heap = Heap(
        lots=[
            Lot(
                name="limbs",
                material="apple",
                mass="35 to 45 kg",
                moisture="18 % wet",
                origin="own trees",
            ),
            Lot(
                name="pallet",
                material="pallet wood",
                mass="12 kg",
                moisture="14 % wet",
                origin="pallet",
                signs=["no mark"],
            ),
        ]
    )
    result = appraise(
        heap, burn=Burn(burner="kettle", diameter="90 cm", depth="40 cm"), tables=tables
    )
    for lot in result.lots:
        print(f"{lot.name}: {lot.verdict}")
        for finding in lot.findings:
            print(f"  {finding.permits}: {finding.reason} Do: {finding.action}")
    print(f"char now: {result.char_volume_ready.to('L')}")
    print(result.explain("char_volume_ready"))
    assert type(result).model_validate_json(result.model_dump_json()) == result
    print(clean_and_dry(Path(__file__).parent / "orchard_prunings.csv"))


if __name__ == "__main__":
    main()
