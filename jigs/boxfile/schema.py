"""The JSON Schema of a box file, for editors."""

from __future__ import annotations

from typing import Any

from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema

from jigs.base.usual import Usual
from jigs.boxfile.reading import BOX_FILE


def schema() -> dict[str, Any]:
    """Return the JSON Schema of a box file, for editors."""
    dialect = {"$schema": GenerateJsonSchema.schema_dialect}
    return dialect | BOX_FILE.json_schema(schema_generator=_WithoutNull)


class _WithoutNull(GenerateJsonSchema):
    """A schema in which what may be left out is not said to be null: TOML has none."""

    def nullable_schema(self, schema: core_schema.NullableSchema) -> JsonSchemaValue:
        """Return the schema of what it holds when it is there."""
        return self.generate_inner(schema["schema"])

    def default_schema(self, schema: core_schema.WithDefaultSchema) -> JsonSchemaValue:
        """Return the schema with its default, where there is one to write."""
        described = super().default_schema(schema)
        default = schema.get("default")
        return {key: value for key, value in described.items() if key != "default" or not _in_no_units(default)}


def _in_no_units(default: object) -> bool:
    """Whether a default can't be written before the units of the file are known, or is no value at all."""
    return default is None or isinstance(default, Usual)
