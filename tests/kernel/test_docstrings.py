"""Each calculation function's docstring against the catalogue: names, units, limits, errors, sources."""

import ast
import inspect
import re
from textwrap import dedent

import pytest

from calc.entries import limits_text
from calc.kernel import errors, tables
from calc.registry import catalogue

UNITS = {
    "count": "count",
    "angle": "degree",
    "length": "mm",
    "pitch": "per inch",
    "module": "mm",
    "number": "-",
    "symbol": "-",
    "circles": "count",
    "counts": "count",
    "choice": "-",
    "thread": "-",
    "taper": "-",
    "rate": "-",
    "drill": "-",
    "drills": "-",
    "lengths": "mm",
    "torque": "N m",
    "power": "W",
    "stress": "MPa",
    "expansion": "per °C",
    "rpm": "turns a minute",
    "speed": "m/min",
    "scale": "-",
    "mass": "kg",
    "density": "kg/m³",
    "contraction": "inch per foot",
}
SECTIONS = ["Parameters", "Returns", "Raises", "Notes", "Examples", "Sources", "Checks"]
ALL = list(catalogue().values())


def sections(function):
    text = dedent(inspect.getdoc(function))
    pieces = re.split(r"^([A-Z][a-z]+)\n-+\n", text, flags=re.MULTILINE)
    return {"": pieces[0]} | dict(zip(pieces[1::2], pieces[2::2], strict=True))


def parameters(function):
    return dict(
        re.findall(r"^(\w+) : .*\n((?:    .*\n?)+)", sections(function)["Parameters"], flags=re.MULTILINE)
    )


@pytest.mark.parametrize("calculation", ALL, ids=lambda one: one.key)
class TestDocstring:
    def test_docstring_when_read_then_every_section_is_there_in_order(self, calculation):
        found = [name for name in sections(calculation.function) if name]
        wanted = [name for name in SECTIONS if name in found]
        assert found == wanted
        assert set(SECTIONS) - set(found) <= {"Notes"}

    def test_parameters_when_compared_then_names_are_those_of_the_catalogue_and_of_the_function(
        self, calculation
    ):
        names = {field.name for field in calculation.inputs}
        assert set(parameters(calculation.function)) == names
        signature = inspect.signature(calculation.function)
        assert set(signature.parameters) == names
        assert {one.kind for one in signature.parameters.values()} == {inspect.Parameter.KEYWORD_ONLY}

    def test_parameters_when_compared_then_units_and_limits_agree(self, calculation):
        for field in calculation.inputs:
            text = " ".join(parameters(calculation.function)[field.name].split())
            assert f"[{UNITS[field.kind]}]" in text, field.name
            limits = "1/60 to 360" if field.name == "angle" else limits_text(field)
            assert limits in text, (field.name, limits)
            if field.most:
                assert f"at most {field.most}" in text
            if field.choices:
                assert " or ".join(value for value, _ in field.choices) in text

    def test_defaults_when_compared_then_signature_and_catalogue_agree(self, calculation):
        for field in calculation.inputs:
            default = inspect.signature(calculation.function).parameters[field.name].default
            if field.default is not None:
                assert str(default) == field.default
            else:
                assert default in (inspect.Parameter.empty, None, ())
                assert (default is not inspect.Parameter.empty) == field.optional

    def test_returns_when_compared_then_every_output_is_named_with_its_unit(self, calculation):
        text = " ".join(sections(calculation.function)["Returns"].split())
        for output in calculation.outputs:
            after = text.partition(f"``{output.name}``")[2]
            assert after, output.name
            assert re.search(r"\[([^]]+)\]", after)[1] == (output.unit or "-"), output.name

    def test_raises_when_compared_then_the_code_raises_those_and_no_other(self, calculation):
        named = set(re.findall(r"^(\w+)\n", sections(calculation.function)["Raises"], flags=re.MULTILINE))
        known = {name for name in dir(errors) if inspect.isclass(getattr(errors, name))} - {
            "CalculationError",
            "Sequence",
        }
        assert named
        assert named <= known
        tree = ast.parse(inspect.getsource(inspect.getmodule(calculation.function)))
        raised = {node.exc.func.id for node in ast.walk(tree) if isinstance(node, ast.Raise)}
        assert raised <= named

    def test_sources_when_compared_then_every_key_and_check_exists(self, calculation):
        parts = sections(calculation.function)
        for key in re.findall(r"^\s*(\w+), ", parts["Sources"], flags=re.MULTILINE):
            assert key in tables.source_keys()
        checks = re.findall(r"(\w+)#([\w.-]+\w)", parts["Checks"])
        assert checks
        for key, name in checks:
            assert name in {check["id"] for check in tables.read_checks(key)}, name

    def test_example_when_run_then_it_prints_what_the_docstring_says(self, calculation):
        example = sections(calculation.function)["Examples"]
        call, printed = re.search(r">>> (.+)\n(.+)", example).groups()
        module = inspect.getmodule(calculation.function)
        assert repr(eval(call, vars(module))) == printed
