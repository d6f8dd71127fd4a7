//! (being merged)
use crate::model::{Shop, Sources};
use crate::reckon::{Reckoned, year::Year};
use crate::typeset::press::Draft;
pub struct YearTables {
    pub files: Vec<(&'static str, String)>,
}
pub fn year_tables(_: &Shop, _: &Reckoned, _: &Year, _: &Sources) -> YearTables {
    YearTables { files: vec![] }
}
pub fn income_summary(_: &Shop, _: &Reckoned, _: &Year, _: &YearTables, _: &Sources) -> Draft {
    todo!()
}
pub fn year_json(_: &Shop, _: &Year, _: &Sources) -> serde_json::Value {
    serde_json::Value::Null
}
