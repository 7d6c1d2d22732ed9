"""Names of inputs. A new revision makes every input of a form a new one, filled afresh."""

from dataclasses import dataclass

from planner.lengths import LengthStyle


@dataclass(frozen=True, slots=True)
class Keys:
    """Makes the keys of one form's inputs, for example "room_length_m.3", and says how their lengths are typed."""

    revision: int
    lengths: LengthStyle = LengthStyle.METRES

    def __call__(self, name: str) -> str:
        """The key of the input of this name."""
        return f"{name}.{self.revision}"
