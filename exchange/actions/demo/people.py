from dataclasses import dataclass
@dataclass
class Settled:
    pass
