"""The JSON Schema of a box file, for editors."""

from __future__ import annotations

from typing import Any

from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema

from jigs.boxfile.sections import (
    BoxFile,
)


# -- the schema ----------------------------------------------------------------------------------------------------
def schema() -> dict[str, Any]:
    """Return the JSON Schema of a box file, for editors."""
    return {
        "$schema": GenerateJsonSchema.schema_dialect,
        **BoxFile.model_json_schema(schema_generator=_WithoutNull),
    }


class _WithoutNull(GenerateJsonSchema):
    """A schema in which what may be left out is not said to be null: TOML has none."""

    def nullable_schema(self, schema: core_schema.NullableSchema) -> JsonSchemaValue:
        """Return the schema of what it holds when it is there."""
        return self.generate_inner(schema["schema"])

    def default_schema(self, schema: core_schema.WithDefaultSchema) -> JsonSchemaValue:
        """Return the schema with its default, where there is one to write."""
        described = super().default_schema(schema)
        return {key: value for key, value in described.items() if (key, value) != ("default", None)}
