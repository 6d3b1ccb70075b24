//! The names of locales, and what the C library says of each.

use pure_rust_locales::{Locale as Known, locale_match};
use serde::{Deserialize, Serialize};

use super::conventions::{DateForm, Locale, Numbers};
use crate::text::safe;

/// A locale by its name: of BCP 47 (`de`, `en-GB`, `sr-Latn-RS`) or of POSIX (`de_DE.UTF-8`, `sr_RS@latin`).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub enum LocaleName {
    /// `C` or `POSIX`: what stands where nothing is chosen.
    #[default]
    Standard,
    /// `system`: what the environment says.
    System,
    Named(Named),
}

/// A locale of the C library.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Named(Known);

/// A name that is no locale's.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum UnknownLocale {
    #[error(
        "{}", tr!("'{name}' is no locale; write a language (de, fr, ru), with a country where it has several (en-GB, pt-PT), or \
         system, or C for none; the languages: {all}", all = languages().collect::<Vec<_>>().join(" ")))]
    Language { name: String },
    #[error("{}", tr!("'{name}' is no locale; of this language there are {known}"))]
    Country { name: String, known: String },
    #[error("{variable}: {source}")]
    Environment {
        variable: &'static str,
        source: Box<UnknownLocale>,
    },
}

/// Each language with the country that is meant where none is named: its only one, that of its own name, or what CLDR
/// holds for likely (`en-US`, `pt-BR`, `sv-SE`).
const LANGUAGES: &str = "\
    aa_ET af_ZA agr_PE ak_GH am_ET an_ES anp_IN ar_EG as_IN ast_ES ayc_PE az_AZ be_BY bem_ZM ber_MA bg_BG bhb_IN \
    bho_IN bi_VU bn_BD bo_CN br_FR brx_IN bs_BA byn_ER ca_ES ce_RU chr_US cmn_TW crh_UA cs_CZ csb_PL cv_RU cy_GB \
    da_DK de_DE doi_IN dsb_DE dv_MV dz_BT el_GR en_US eo es_ES et_EE eu_ES fa_IR ff_SN fi_FI fil_PH fo_FO fr_FR \
    fur_IT fy_NL ga_IE gd_GB gez_ET gl_ES gu_IN gv_GB ha_NG hak_TW he_IL hi_IN hif_FJ hne_IN hr_HR hsb_DE ht_HT \
    hu_HU hy_AM ia_FR id_ID ig_NG ik_CA is_IS it_IT iu_CA ja_JP ka_GE kab_DZ kk_KZ kl_GL km_KH kn_IN ko_KR kok_IN \
    ks_IN ku_TR kw_GB ky_KG lb_LU lg_UG li_NL lij_IT ln_CD lo_LA lt_LT lv_LV lzh_TW mag_IN mai_IN mfe_MU mg_MG \
    mhr_RU mi_NZ miq_NI mjw_IN mk_MK ml_IN mn_MN mni_IN mnw_MM mr_IN ms_MY mt_MT my_MM nan_TW nb_NO nds_DE ne_NP \
    nhn_MX niu_NU nl_NL nn_NO nr_ZA nso_ZA oc_FR om_ET or_IN os_RU pa_IN pap_CW pl_PL ps_AF pt_BR quz_PE raj_IN \
    ro_RO ru_RU rw_RW sa_IN sah_RU sat_IN sc_IT sd_IN se_NO sgs_LT shn_MM shs_CA si_LK sid_ET sk_SK sl_SI sm_WS \
    so_SO sq_AL sr_RS ss_ZA st_ZA sv_SE sw_TZ szl_PL ta_IN tcy_IN te_IN tg_TJ th_TH the_NP ti_ET tig_ER tk_TM \
    tl_PH tn_ZA to_TO tpi_PG tr_TR ts_ZA tt_RU ug_CN uk_UA unm_US ur_PK uz_UZ ve_ZA vi_VN wa_BE wae_CH wal_ET \
    wo_SN xh_ZA yi_US yo_NG yue_HK yuw_PG zh_CN zu_ZA \
";

pub(super) fn languages() -> impl Iterator<Item = &'static str> {
    let all = LANGUAGES.split_whitespace();
    all.map(|name| name.split('_').next().unwrap_or(name))
}

impl LocaleName {
    /// By its name, in any case.
    ///
    /// # Errors
    /// There is none of that name.
    pub fn named(name: &str) -> Result<Self, UnknownLocale> {
        let name = name.trim();
        let bare = match name.split_once('.') {
            // What follows the point is the coding of the characters, up to a variant.
            Some((bare, coding)) => match coding.split_once('@') {
                Some((_, variant)) => format!("{bare}@{variant}"),
                None => bare.to_owned(),
            },
            None => name.to_owned(),
        };
        match bare.to_lowercase().as_str() {
            "c" | "posix" => Ok(Self::Standard),
            "system" => Ok(Self::System),
            bare => of_parts(bare)
                .map(|known| Self::Named(Named(known)))
                .ok_or_else(|| unknown(name, bare)),
        }
    }

    /// As it is written in a setting.
    #[must_use]
    pub fn name(self) -> String {
        match self {
            Self::Standard => "C".to_owned(),
            Self::System => "system".to_owned(),
            Self::Named(Named(known)) => known.to_string(),
        }
    }

    /// What it says of numbers and dates; `environment` gives the value of a variable.
    ///
    /// # Errors
    /// The environment names a locale that is none.
    pub fn locale(
        self,
        environment: &dyn Fn(&str) -> Option<String>,
    ) -> Result<Locale, UnknownLocale> {
        match self {
            Self::Standard => Ok(Locale::STANDARD),
            Self::Named(Named(known)) => Ok(data(known)),
            Self::System => {
                let of = |variable| in_environment(variable, environment);
                Ok(Locale {
                    numbers: of("LC_NUMERIC")?.numbers,
                    dates: of("LC_TIME")?.dates,
                })
            }
        }
    }
}

/// The locale of one category: the first of three variables that is set and not empty (POSIX, Base Definitions, 8.2).
fn in_environment(
    category: &'static str,
    environment: &dyn Fn(&str) -> Option<String>,
) -> Result<Locale, UnknownLocale> {
    let set = ["LC_ALL", category, "LANG"]
        .into_iter()
        .find_map(|variable| Some((variable, environment(variable).filter(|v| !v.is_empty())?)));
    let Some((variable, value)) = set else {
        return Ok(Locale::STANDARD);
    };
    let wrong = |source| UnknownLocale::Environment {
        variable,
        source: Box::new(source),
    };
    match LocaleName::named(&value).map_err(wrong)? {
        LocaleName::Named(Named(known)) => Ok(data(known)),
        LocaleName::Standard | LocaleName::System => Ok(Locale::STANDARD),
    }
}

/// The locale of a name in small letters, without its coding.
fn of_parts(name: &str) -> Option<Known> {
    let (name, variant) = match name.split_once('@') {
        Some((name, variant)) => (name, Some(variant)),
        None => (name, None),
    };
    let mut parts = name.split(['-', '_']);
    let language = match parts.next()? {
        // One of the two written languages, which have the same conventions.
        "no" => "nb",
        language => language,
    };
    let (mut script, mut country) = (None, None);
    for part in parts {
        match part.len() {
            4 if script.is_none() && country.is_none() => script = Some(part),
            2 if country.is_none() => country = Some(part.to_uppercase()),
            _ => return None,
        }
    }
    // The C library names a script as a variant, and only where it is not the usual one of the language.
    let variants: &[&str] = match script {
        Some("latn") => &["latin", ""],
        Some("cyrl") => &["cyrillic", ""],
        Some("deva") => &["devanagari", ""],
        Some(_) => &[""],
        None => &[variant.unwrap_or_default()],
    };
    let place = match country {
        Some(country) => format!("{language}_{country}"),
        None if language == "zh" && script == Some("hant") => "zh_TW".to_owned(),
        None => likely(language)?.to_owned(),
    };
    variants.iter().find_map(|variant| {
        let name = match *variant {
            "" => place.clone(),
            variant => format!("{place}@{variant}"),
        };
        name.parse().ok()
    })
}

/// The language with the country that is meant by it alone.
fn likely(language: &str) -> Option<&'static str> {
    let mut all = LANGUAGES.split_whitespace();
    all.find(|name| name.split('_').next() == Some(language))
}

fn unknown(name: &str, bare: &str) -> UnknownLocale {
    let name = safe(name).into_owned();
    let language = bare.split(['-', '_', '@']).next().unwrap_or_default();
    if likely(language).is_none() {
        return UnknownLocale::Language { name };
    }
    let letters = || 'A'..='Z';
    let pairs = letters().flat_map(|a| letters().map(move |b| format!("{a}{b}")));
    let known = pairs.filter(|c| format!("{language}_{c}").parse::<Known>().is_ok());
    let known: Vec<String> = known.map(|c| format!("{language}-{c}")).collect();
    UnknownLocale::Country {
        name,
        known: match known.is_empty() {
            true => language.to_owned(),
            false => crate::text::list(&known),
        },
    }
}

fn data(known: Known) -> Locale {
    Locale {
        numbers: Numbers {
            point: locale_match!(known => LC_NUMERIC::DECIMAL_POINT),
            between: locale_match!(known => LC_NUMERIC::THOUSANDS_SEP),
            groups: locale_match!(known => LC_NUMERIC::GROUPING),
        },
        dates: DateForm::of(locale_match!(known => LC_TIME::D_FMT)),
    }
}

impl TryFrom<String> for LocaleName {
    type Error = UnknownLocale;

    fn try_from(name: String) -> Result<Self, UnknownLocale> {
        Self::named(&name)
    }
}

impl From<LocaleName> for String {
    fn from(name: LocaleName) -> Self {
        name.name()
    }
}
