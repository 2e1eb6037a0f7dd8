"""Every number wears its unit: public fields and parameters of type float end in one."""

from __future__ import annotations

import ast

UNITS = (
    "m", "m2", "m3", "m4", "mm", "px", "pt", "per_m", "per_m2", "kg", "kg_m", "kg_m2", "kg_m3", "N", "N_m", "Nm", "Pa",
    "deg", "rad", "s", "us", "seconds", "Hz", "m_s", "K", "degC", "degF", "W", "W_K", "W_m2", "W_m2_K", "J", "J_K",
    "share", "factor", "ratio", "scale", "count", "money",
)  # fmt: skip

# Figures whose unit stands elsewhere: in the name of what holds them, in a unit beside them, or in the plan's currency.
PLAIN = {
    "value", "low", "high",  # a cited figure: its field's name has the unit
    "quantity", "steps",  # counted, in the unit beside it
    "unit_price", "price", "cost", "total",  # money, in the plan's currency
    "gap",  # a share of the best cost
    "side", "sign", "toward",  # +1 or -1
    "nominal", "likely", "worst_low", "worst_high", "rss",  # a spread, with its unit beside it
    "fittings_low", "fittings_high",  # the same
    "missing_from",  # in the unit of the file's own column
}  # fmt: skip

FLOATS = {"float", "float | None", "tuple[float, ...]", "Sequence[float]", "list[float]"}


def is_bare(name, annotation):
    """Whether a name is annotated as a float and says nothing of its unit."""
    if annotation is None or ast.unparse(annotation) not in FLOATS or name in PLAIN:
        return False
    return not any(name == unit or name.endswith(f"_{unit}") for unit in UNITS)


def public_scopes(tree):
    """The module and its public classes."""
    return [tree, *(node for node in tree.body if isinstance(node, ast.ClassDef) and not node.name.startswith("_"))]


def test_public_numbers_wear_their_unit(sources):
    bare = []
    for source in sources:
        for scope in public_scopes(source.tree):
            for node in scope.body:
                if isinstance(node, ast.AnnAssign) and isinstance(scope, ast.ClassDef):
                    name = ast.unparse(node.target)
                    if is_bare(name, node.annotation):
                        bare.append(f"{source.at(node)} {scope.name}.{name}")
                elif isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
                    given = node.args.posonlyargs + node.args.args + node.args.kwonlyargs
                    bare += [
                        f"{source.at(node)} {node.name}({arg.arg})" for arg in given if is_bare(arg.arg, arg.annotation)
                    ]
    assert not bare, "numbers without a unit in their name:\n" + "\n".join(bare)


def test_the_rule_sees_a_bare_number():
    """Checked against plain cases, so that the rule can't pass by looking away."""
    field = ast.parse("length: float").body[0]
    assert is_bare("length", field.annotation)
    assert is_bare("form", field.annotation)
    assert not is_bare("length_m", field.annotation)
    assert not is_bare("m", field.annotation)
