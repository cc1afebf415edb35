from .errors import (
    CaseError as CaseError,
    DataError as DataError,
    LogError as LogError,
    NotBuiltYet as NotBuiltYet,
    OutOfRange as OutOfRange,
    ScreeningError as ScreeningError,
    UnknownName as UnknownName,
)
from .judgement.case.case import (
    Case as Case,
    Engine as Engine,
    Head as Head,
    Operation as Operation,
    Piston as Piston,
    Printer as Printer,
    SoakTest as SoakTest,
)
from .judgement.case.case_file import load_case as load_case, save_case as save_case
from .judgement.choice.screening import Screening as Screening, screen as screen
from .judgement.contact.pair import Contact as Contact, assess_contact as assess_contact
from .judgement.cylinder.flame import flame_temperature as flame_temperature
from .judgement.cylinder.one_cycle import Cycle as Cycle, run_cycle as run_cycle
from .judgement.head.run_log import RunLog as RunLog, read_log as read_log
from .physics.crown.conduction import (
    Decomposition as Decomposition,
    Film as Film,
    Layer as Layer,
    SteadyCrown as SteadyCrown,
    heat_crown as heat_crown,
    steady_crown as steady_crown,
)
from .physics.crown.crown_heat import CrownHeat as CrownHeat
from .physics.head.thermometry import surface_temperature as surface_temperature
from .physics.head.warm_up import WarmUp as WarmUp
from .records.liquids.find_fuel import Fuel as Fuel, find_fuel as find_fuel, known_fuels as known_fuels
from .records.materials.materials import (
    Material as Material,
    Materials as Materials,
    Value as Value,
    load_materials as load_materials,
)
from .report.shortlist.document import report_json as report_json
from .report.shortlist.page import report_html as report_html

__version__: str
