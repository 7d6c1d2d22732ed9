"""Names of inputs. A new revision makes every input of a form a new one, filled afresh."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Keys:
    """Makes the keys of one form's inputs, for example "room_length_m.3"."""

    revision: int

    def __call__(self, name: str) -> str:
        """The key of the input of this name."""
        return f"{name}.{self.revision}"
