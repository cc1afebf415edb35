from .errors import (
    CaseError as CaseError,
)
from .errors import (
    DataError as DataError,
)
from .errors import (
    LogError as LogError,
)
from .errors import (
    NotBuiltYet as NotBuiltYet,
)
from .errors import (
    OutOfRange as OutOfRange,
)
from .errors import (
    ScreeningError as ScreeningError,
)
from .errors import (
    UnknownName as UnknownName,
)
from .judgement.case.case import (
    Case as Case,
)
from .judgement.case.case import (
    Engine as Engine,
)
from .judgement.case.case import (
    Head as Head,
)
from .judgement.case.case import (
    Operation as Operation,
)
from .judgement.case.case import (
    Piston as Piston,
)
from .judgement.case.case import (
    Printer as Printer,
)
from .judgement.case.case import (
    SoakTest as SoakTest,
)
from .judgement.case.case_file import load_case as load_case
from .judgement.case.case_file import save_case as save_case
from .judgement.choice.screening import Screening as Screening
from .judgement.choice.screening import screen as screen
from .judgement.contact.pair import Contact as Contact
from .judgement.contact.pair import assess_contact as assess_contact
from .judgement.cylinder.flame import flame_temperature as flame_temperature
from .judgement.cylinder.one_cycle import Cycle as Cycle
from .judgement.cylinder.one_cycle import run_cycle as run_cycle
from .judgement.head.run_log import RunLog as RunLog
from .judgement.head.run_log import read_log as read_log
from .physics.crown.conduction import (
    Decomposition as Decomposition,
)
from .physics.crown.conduction import (
    Film as Film,
)
from .physics.crown.conduction import (
    Layer as Layer,
)
from .physics.crown.conduction import (
    SteadyCrown as SteadyCrown,
)
from .physics.crown.conduction import (
    heat_crown as heat_crown,
)
from .physics.crown.conduction import (
    steady_crown as steady_crown,
)
from .physics.crown.crown_heat import CrownHeat as CrownHeat
from .physics.head.thermometry import surface_temperature as surface_temperature
from .physics.head.warm_up import WarmUp as WarmUp
from .records.liquids.find_fuel import Fuel as Fuel
from .records.liquids.find_fuel import find_fuel as find_fuel
from .records.liquids.find_fuel import known_fuels as known_fuels
from .records.materials.materials import (
    Material as Material,
)
from .records.materials.materials import (
    Materials as Materials,
)
from .records.materials.materials import (
    Value as Value,
)
from .records.materials.materials import (
    load_materials as load_materials,
)
from .report.shortlist.document import report_json as report_json
from .report.shortlist.page import report_html as report_html

__version__: str
