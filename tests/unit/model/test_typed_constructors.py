"""What a type checker is told of a constructor is what the model takes: an `__init__` under
TYPE_CHECKING is never run, so nothing else would notice a field that only one of the two knows.
"""

from __future__ import annotations

import ast
import importlib
from collections.abc import Iterator

import pytest
from pydantic import BaseModel

from builders import ROOT

PACKAGE = ROOT / "feedstock"


def typed_constructors() -> Iterator[tuple[str, str, ast.FunctionDef]]:
    """Module, class and `__init__` of every class that declares one under TYPE_CHECKING."""
    for path in sorted(PACKAGE.rglob("*.py")):
        text = path.read_text(encoding="utf-8")
        if "def __init__(" not in text or "TYPE_CHECKING" not in text:
            continue
        module = ".".join(path.relative_to(ROOT).with_suffix("").parts)
        for node in ast.walk(ast.parse(text)):
            if not isinstance(node, ast.ClassDef):
                continue
            for part in node.body:
                if isinstance(part, ast.If) and ast.unparse(part.test) == "TYPE_CHECKING":
                    for each in part.body:
                        if isinstance(each, ast.FunctionDef) and each.name == "__init__":
                            yield module, node.name, each


CONSTRUCTORS = list(typed_constructors())


@pytest.mark.property
def test_the_models_that_a_user_writes_are_among_them() -> None:
    names = {name for _, name, _ in CONSTRUCTORS}
    assert {"Lot", "Heap", "Burn", "Pieces", "Stack", "Containers", "Air", "Measures"} <= names


@pytest.mark.property
@pytest.mark.parametrize(
    "module, name, init", CONSTRUCTORS, ids=[f"{module}.{name}" for module, name, _ in CONSTRUCTORS]
)
def test_a_typed_constructor_has_the_fields_of_its_model(
    module: str, name: str, init: ast.FunctionDef
) -> None:
    """The same names, given by name only, asked for where the model asks for them, and with the
    model's default where it has one.
    """
    model = getattr(importlib.import_module(module), name)
    assert issubclass(model, BaseModel)
    given = init.args
    assert [each.arg for each in given.args] == ["self"]
    assert not given.vararg
    assert not given.kwarg
    defaults = dict(zip([each.arg for each in given.kwonlyargs], given.kw_defaults, strict=True))
    fields = {field.alias or key: field for key, field in model.model_fields.items()}
    assert set(defaults) == set(fields)
    for key, field in fields.items():
        default = defaults[key]
        assert (default is None) == field.is_required(), key
        if default is not None and not isinstance(default, ast.Constant | ast.Tuple):
            continue  # a name or a call that is never run
        if default is not None:
            assert ast.literal_eval(default) == field.get_default(call_default_factory=True), key
